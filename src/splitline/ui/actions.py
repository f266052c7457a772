"""Every command, declared once: footer, palette, help and key map derive from here.

A command is carried out by the method ``do_<id>`` of the screen it belongs to, or of the application.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final


@dataclass(frozen=True, slots=True)
class Command:
    """``places`` are the screens it works on; ``footer`` those whose foot line shows it."""

    id: str
    key: str
    label: str
    help: str
    places: tuple[str, ...]
    footer: tuple[str, ...] = ()
    shown: str = ""  # the key as printed, where it differs
    edits: bool = False  # changes the plan: not there in a view-only session

    @property
    def printed(self) -> str:
        return self.shown or self.key.partition(",")[0]


PLANS, PLAN, VIEW, RECORD, PAPER = "plans", "plan", "view", "record", "paper"
_ALL = (PLANS, PLAN, VIEW, RECORD, PAPER)

COMMANDS: Final = (
    Command("open", "enter", "open", "Open the plan under the cursor", (PLANS,), (PLANS,), "Enter"),
    Command("edit", "enter", "edit", "Edit the field, open the item, or show why a number is so", (PLAN,), (PLAN,), "Enter"),
    Command("new", "n", "new plan", "Start a plan from one of the starting plans", (PLANS,), (PLANS,), edits=True),
    Command("work", "o", "work", "Open the fitter's screen of this plan", (PLANS, PLAN), (PLANS,)),
    Command("record", "y", "record", "Show what was done", (PLANS, PLAN)),
    Command("views", "v", "drawings", "Open the drawings of the item: map, passes, section, lift, clearance", (PLAN,), (PLAN,)),
    Command("why", "w", "why", "Show formula, numbers put in and source of a result", (PLAN, VIEW)),
    Command("what_if", "h", "what if", "What moves a check, what would make it ok, what would break it", (PLAN,)),
    Command("timeline", "t", "timeline", "Show the steps over time with time limits and hold points", (PLAN,)),
    Command("add", "a", "add", "Add an item, a table or a field here", (PLAN,), edits=True),
    Command("copy", "c", "copy", "Copy the item or entry under the cursor", (PLAN,), edits=True),
    Command("delete", "x,delete", "delete", "Delete item, entry or field under the cursor (u undoes that)", (PLAN,), edits=True),
    Command("earlier", "less_than_sign,shift+up", "earlier", "Move item or entry one place up", (PLAN,), shown="<", edits=True),
    Command("later", "greater_than_sign,shift+down", "later", "Move item or entry one place down", (PLAN,), shown=">", edits=True),
    Command("more", "plus,equals_sign", "more", "Raise the value a little, watch the checks", (PLAN,), shown="+", edits=True),
    Command("less", "minus", "less", "Lower the value a little, watch the checks", (PLAN,), shown="-", edits=True),
    Command("pin", "p", "pin", "Pin the plan as it is now, to compare with", (PLAN,)),
    Command("compare", "k", "compare", "Set the pinned plan and the present one side by side", (PLAN,)),
    Command("every", "e", "every field", "Show every field that could be given, or only those that matter", (PLAN,)),
    Command("units", "i", "units", "Switch between SI and US units on screen; the file stays as it is", (PLAN, VIEW)),
    Command("problems", "b", "problems", "List every mistake of the plan; Enter goes to the field", (PLAN,)),
    Command("unsettled", "f", "findings", "List every check that is not ok; Enter goes to the item", (PLAN,)),
    Command("search", "slash", "search", "Search items, fields, results and commands of the plan", (PLANS, PLAN), shown="/"),
    Command("jump", "g", "go to", "Go to an item by the number it bears on paper: 14, J2, L3", (PLAN,)),
    Command("examples", "l", "examples", "List the starting plan's examples that are left, with what each is for", (PLAN,)),
    Command("next_example", "right_square_bracket", "next example", "Go to the next example", (PLAN,), shown="]"),
    Command("previous_example", "left_square_bracket", "previous example", "Go to the example before", (PLAN,), shown="["),
    Command("confirm", "m", "right as it is", "Take the example under the cursor as right (u undoes it)", (PLAN,), edits=True),
    Command("undo", "u,ctrl+z", "undo", "Undo the last change", (PLAN,), edits=True),
    Command("redo", "r,ctrl+y", "redo", "Make the change undone again", (PLAN,), edits=True),
    Command("save", "ctrl+s", "save", "Save the plan", (PLAN,), (PLAN,), "Ctrl+S", edits=True),
    Command("export", "f9", "picture", "Save this screen as a picture (SVG) in the working folder", (VIEW,), shown="F9"),
    Command("save_as", "s", "save as", "Save the plan under another name, and go on with that one", (PLAN,), edits=True),
    Command("bring", "n", "from another", "Copy items from another plan into this one", (PLAN,), edits=True),
    Command("print", "d", "print", "Print toolbox pack, sheets, working, kit list or dossier", (PLAN, RECORD), edits=True),
    Command("page_before", "left", "page before", "Turn to the page before", (RECORD,)),
    Command("page_after", "right", "next page", "Turn to the next page", (RECORD,)),
    Command("verify", "v", "verify", "Hold the record against its own code, now", (RECORD,)),
    Command("write", "e", "export", "Write the record beside the plan: dossier, table, text, JSON", (RECORD,), edits=True),
    Command("from_paper", "p", "from paper", "Enter a filled sheet as a table", (RECORD,), edits=True),
    Command("tick", "space", "tick", "Tick the line, or take the tick away", (PAPER,), shown="Space", edits=True),
    Command("to_here", "a", "to here", "Tick every line down to the cursor", (PAPER,), edits=True),
    Command("value", "enter", "value", "Give the reading of the line; or type it", (PAPER,), shown="Enter", edits=True),
    Command("reading", "v", "reading", "Give another kind of reading", (PAPER,), edits=True),
    Command("time", "t", "time", "Say another time, from this line on", (PAPER,), edits=True),
    Command("by", "b", "by", "Say another name, from this line on", (PAPER,), edits=True),
    Command("enter_all", "e", "enter all", "Store what is filled in, after saying what it is", (PAPER,), edits=True),
    Command("switch", "tab", "next pane", "Go to the next pane", (PLAN,), shown="Tab"),
    Command("theme", "f2", "light / dark", "Switch between light and dark", _ALL, shown="F2"),
    Command("palette", "ctrl+p,f4", "commands", "List every command of this screen", _ALL, (VIEW,), "Ctrl+P"),
    Command("help", "question_mark,f1", "help", "Keys, marks, and what is under the cursor", _ALL, (PLANS, PLAN, VIEW), "?"),
    Command("back", "escape", "back", "Leave this screen", _ALL, (VIEW,), "Esc"),
    Command("quit", "ctrl+q", "quit", "Leave the program, after asking", _ALL, shown="Ctrl+Q"),
)  # fmt: skip


@cache
def commands_of(place: str, view_only: bool = False) -> tuple[Command, ...]:
    """Commands that work on a screen."""
    return tuple(c for c in COMMANDS if place in c.places and not (view_only and c.edits))


@cache
def footer_of(place: str) -> tuple[Command, ...]:
    """The four that matter on a screen."""
    return tuple(c for c in COMMANDS if place in c.footer)


def bindings(place: str) -> list[tuple[str, str, str]]:
    """The key map of a screen, for Textual. Tab and the keys of panes are theirs, as are those of a table being typed in."""
    return [
        (c.key, f"command('{c.id}')", c.label)
        for c in commands_of(place)
        if c.id not in ("edit", "open", "quit", "switch") and c.places != (PAPER,)
    ]
