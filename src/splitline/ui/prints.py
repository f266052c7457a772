"""Documents printed from a screen: which there are, under what names, and writing the one that was picked."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.errors import SplitlineError
from splitline.ui.screens.picker import Option, PickerScreen

if TYPE_CHECKING:
    from textual.screen import Screen

Say = Callable[[str, str], None]
# What is printed, the end of its name, what it holds; as ``report.documents`` knows them.
DOCUMENTS = (
    ("pack", "toolbox pack", "pack.pdf", "order of work, every sheet and the kit list"),
    ("working", "pack with working", "working.pdf", "the same, with why each value is so"),
    ("kit", "kit list", "kit.pdf", "tools, slings, instruments and consumables, with boxes for in and out"),
    ("dossier", "dossier", "as-built.pdf", "what was done, to sign and file"),
)


def offer(screen: Screen[Any], plan: Path, item: tuple[str, str] | None, say: Say) -> None:
    """Ask which document of the plan, write it beside the plan, and say so. ``item`` is the id and title it may be of alone."""
    found = list(DOCUMENTS)
    if item is not None:
        found.insert(0, ("item", "sheets of this item", f"{item[0]}.pdf", f"{item[1]}, with its working"))
    options = []
    for what, label, ending, holds in found:
        path = plan.with_name(f"{plan.name.removesuffix('.toml')}-{ending}")
        there = "writes over" if path.exists() else "into"
        options.append(Option((what, path), label, f"{holds}; {there} {path.name}"))

    def write(picked: Any) -> None:
        if picked is not None:
            say("printing ...", "dim")
            screen.run_worker(
                lambda: _write(screen, plan, picked, item, say), thread=True, group="print", exclusive=True
            )

    screen.app.push_screen(PickerScreen("Print as PDF on A4, beside the plan", options), write)


def _write(screen: Screen[Any], plan: Path, picked: tuple[str, Path], item: tuple[str, str] | None, say: Say) -> None:
    """Beside the screen: the PDF takes a moment."""
    what, path = picked
    try:
        printing = import_module("splitline.report.documents")
        printing.write(plan, what, path, item[0] if item is not None else None)
    except (SplitlineError, OSError) as error:
        screen.app.call_from_thread(say, str(error), "fails")
    else:
        screen.app.call_from_thread(say, f"written: {path.name}", "ok")
