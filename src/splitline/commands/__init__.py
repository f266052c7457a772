"""One file per command: ``add(subparsers)`` declares it with an example, ``run(args)`` does it and returns the exit code."""

from __future__ import annotations

# Command -> one line for the overview. A command's module is imported only when it is called (or for its own help).
COMMANDS: dict[str, str] = {
    "check": "assess a plan and print every check",
    "new": "write a starting plan to replace values in",
    "torque": "torque, preload and working of one bolt, without a plan",
    "lift": "leg tensions of a symmetric lift, without a plan",
    "order": "the tightening order of one joint, pass by pass",
    "sheet": "print sheets: PDF, Markdown or CSV",
    "studs": "what is in every stud now, and which to measure next",
    "kit": "tools, slings and consumables a plan needs",
    "record": "what was done: tables, exports, verification",
    "serve": "the same screens in a tablet's browser",
    "pin": "a PIN for a name that signs",
    "schema": "the plan file's JSON Schema, for editors",
}
