"""The tables of keys in the guides, from the program: ``python -m tests.docs.keys`` writes them.

Planner: the register of commands. Fitter: the boxes as the tasks declare them.
"""

from __future__ import annotations

import ast
from pathlib import Path

from splitline.ui.actions import PLAN, VIEW, commands_of
from splitline.ui.work import tasks

DOCS = Path(__file__).parents[2] / "docs"
PLANNER, FITTER = DOCS / "planner.md", DOCS / "fitter.md"
MARKS = {PLANNER: ("<!-- keys -->\n", "<!-- end of keys -->"), FITTER: ("<!-- boxes -->\n", "<!-- end of boxes -->")}
DOES = {
    "Done": "the instruction is done",
    "Start": "the step starts: a time limit begins with it",
    "Set up": "lubricant and tool of this pass",
    "Did not move": "check round: the nut stood still",
    "Nut moved": "check round: the nut turned",
    "Reading": "a value read, judged at once",
    "Correction": "strike an entry, with a reason",
    "Stop work": "leave, with a word for the next shift",
    "More": "defer, bring back, witness, tool, parts and points, from paper, steps, note, record, name, help, leave; "
    "`Ctrl+P` opens it too",
    "Sign": "a hold point, by the one who is named",
    "Accept": "a named person takes a stop or a failing check of the plan on themselves, or lets a deferred stud stay so",
    "Take over": "another crew's studs, after they are off them",
    "Count out": "how many parts are out",
    "Record": "what was done",
    "Enter": "what only the job knows: a sling's tag, the crane's radius",
    "Trial lift": "lift a little, hold, judge",
    "Back": "from a step that waits to the one you were at; so does `Esc`",
    "Step done": "this step ends here, a later one goes on with the fit",
    "Pressure lost": "in a hold under pressure: why; what was held does not count",
    "Pressure restored": "the full hold time restarts",
    "Witness": "whether the person called was there",
}


def boxes() -> dict[str, str]:
    """Label and key of every box that a task can show, read where they are declared."""
    found: dict[str, str] = {}
    for path in sorted(Path(str(tasks.__file__)).parent.glob("tasks*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Answer":
                words = [one.value for one in node.args[1:3] if isinstance(one, ast.Constant)]
                if len(words) == 2 and found.get(str(words[0])) != "enter":
                    found[str(words[0])] = str(words[1])
    return found


def table(guide: Path) -> str:
    rows = ["", "| key | does |", "| --- | --- |"]
    if guide == PLANNER:
        commands = {command.id: command for place in (VIEW, PLAN) for command in commands_of(place)}
        every = [*commands_of(PLAN), *commands_of(VIEW)]
        rows += [f"| `{commands[i].printed}` | {commands[i].help} |" for i in dict.fromkeys(c.id for c in every)]
    else:
        have = boxes()
        order = [label for label in DOES if label in have] + sorted(set(have) - set(DOES))
        rows = ["", "| box | key | does |", "| --- | --- | --- |"]
        for label in order:
            key = have[label].capitalize() if len(have[label]) > 1 else have[label]
            rows.append(f"| {label} | `{key}` | {DOES.get(label, '')} |")
    return "\n".join([*rows, "", ""])


def page(guide: Path, text: str) -> str:
    begin, end = MARKS[guide]
    before, rest = text.split(begin, 1)
    return before + begin + table(guide) + end + rest.split(end, 1)[1]


def main() -> None:
    for guide in MARKS:
        guide.write_text(page(guide, guide.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main()
