"""What came out of an item: verdict, drawing beside the results that matter, checks, cautions, the rest."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from splitline.assess.cautions import of_step
from splitline.assess.keys import Key, registry
from splitline.assess.result import Caution, ItemResult
from splitline.plan.model import Step
from splitline.ui import marks
from splitline.ui.card.checks import check_lines
from splitline.ui.card.overview import overview_lines
from splitline.ui.card.values import label_of, result_segs, said_value
from splitline.ui.draw.cautions import whole_of
from splitline.ui.draw.rows import Row, clean, fit, fit_row, row_width, rule, width, wrap
from splitline.ui.session import Session
from splitline.ui.widgets.lines import Line
from splitline.units import System

Picture = Callable[[int, int], list[Row] | None]
# Results that stand beside the drawing, in this order; the rest follows under the checks.
FIRST: dict[str, tuple[str, ...]] = {
    "joint": (
        "preload", "bolt_stress", "torque", "torque_passes", "set_passes", "tensioner_pressure", "stretch",
        "turn_angle", "predicted_spread", "load_factor", "bolt_stiffness", "member_stiffness",
    ),
    "lift": (
        "mass", "hook_load", "leg_tension", "leg_tension_governing", "leg_angle", "tilt", "tilt_worst",
        "pick_line_tilt", "spigot_tilt",
        "crane_load", "crane_usage", "headroom",
    ),
    "fit": (
        "interference_low", "interference_high", "contact_pressure", "contact_pressure_at_speed", "advance",
        "push_force", "expansion_pressure", "expansion_pressure_high", "heating_rise", "torque_capacity",
        "axial_capacity", "hub_stress",
    ),
    "insertion": ("push_force_low", "push_force_high", "stop_force", "jack_pressure", "strokes"),
}  # fmt: skip
# Names that fit beside a drawing, where the whole title does not.
SHORT: dict[str, str] = {
    "bolt_stress": "Bolt stress",
    "torque_passes": "Torque by pass",
    "set_passes": "Set value by pass",
    "predicted_spread": "Interaction spread",
    "load_factor": "Bolt's load share",
    "member_stiffness": "Clamped stiffness",
    "leg_angle": "Leg to horizontal",
    "interference_low": "Interference, least",
    "interference_high": "Interference, most",
    "contact_pressure": "Contact at rest",
    "contact_pressure_at_speed": "Contact at speed",
    "advance": "Advance from zero",
}


def fact_lines(
    session: Session, kind: str, index: int, cells: int, picture: Picture | None, every: bool, rows: int = 99
) -> list[Line]:
    """Lines of the upper card in a pane of ``rows``; targets are ("check", key, n), ("result", key), ("problem", path)."""
    result = session.result(kind, index)
    raw = session.raw(kind, index)
    title = raw.get("title") or (f"Step {index + 1}" if kind == "step" else session.ident(kind, index)) or kind
    out = [Line(_title(str(title), result, cells))]
    out += _worst(result, cells, session.system) if result is not None else []
    if len(out) == 1 or rows > 16:
        out.append(Line(rule(cells)))
    if kind == "step":
        out += _step(raw, cells)
        if result is None and raw.get("caution"):
            out += [Line(row) for row in whole_of((str(raw["caution"]),), cells)]
    if kind == "plan":
        out += overview_lines(session, cells)
    problems = session.draft.item_problems(kind, index) if kind != "plan" else ()
    for problem in problems:
        parts = wrap(str(problem), max(cells - 2, 10), 8)
        out += [Line(((f"{marks.PROBLEM} ", "problem"), (parts[0], "problem")), ("problem", problem.path))]
        out += [Line((("  ", ""), (p, "problem"))) for p in parts[1:]]
    if problems:
        out.append(Line((("Mended, this item is assessed again.", "dim"),)))
    if result is None:
        said = session.outcome.unassessed.get(kind, "")
        if kind != "plan" and not problems:
            settled = session.computed_for is session.draft
            word = said or ("not assessed yet" if settled else "computing ...")
            out += [Line(((part, "dim"),)) for part in wrap(word, cells, 6)]
        return out
    out += _drawing_and_results(result, cells, session.system, picture, rows - len(out))
    if result.checks:
        out.append(Line(rule(cells, "checks")))
        out += check_lines(result.checks, cells, session.system)
    cautions = _cautions(session, kind, index, result)
    if cautions:
        out.append(Line(rule(cells, "cautions")))
    for caution in cautions:
        parts = wrap(caution.text, max(cells - 2, 10), 8)
        out += [Line((("! ", "caution"), (parts[0], "")))]
        out += [Line((("  ", ""), (p, ""))) for p in parts[1:]]
    out += _cases(result, cells, session.system)
    rest = [k for k in registry(kind).values() if k.key in result.results and k.key not in FIRST.get(kind, ())]
    if rest:
        out.append(Line(rule(cells, "further results")))
        out += [line for key in rest for line in _result(key, result.results, cells, session.system, every)]
    out += _tail(result, cells)
    return out


def _cautions(session: Session, kind: str, index: int, result: ItemResult) -> tuple[Caution, ...]:
    """Those of the item; of a step also those of what it works on."""
    step = session.draft.item(kind, index) if kind == "step" else None
    if not isinstance(step, Step) or step.target is None:
        return result.cautions
    place = session.index_of(*step.target)
    return of_step(result, session.result(step.target[0], place) if place is not None else None)


def _step(raw: dict[str, Any], cells: int) -> list[Line]:
    """A step in full: what is done, who signs, what comes before."""
    out = [Line(((part, ""),)) for part in wrap(str(raw.get("text") or ""), cells, 8)]
    for key, mark in (("hold", f"{marks.HOLD} hold: "), ("witness", f"{marks.WITNESS} witness: ")):
        if raw.get(key):
            style = "caution" if key != "witness" else "dim"
            out += [Line(((part, style),)) for part in wrap(f"{mark}{raw[key]}", cells, 4)]
    return out


def _title(title: str, result: ItemResult | None, cells: int) -> Row:
    if result is None:
        return ((fit(clean(title), cells), "title"),)
    if not result.checks:
        return ((fit(clean(title), cells), "title"),)
    worst = result.worst_check
    said = f"{marks.shape(result.verdict)} {marks.word(result.verdict)}"
    if worst is not None and worst.usage is not None and worst.verdict in ("near", "fails", "ok"):
        said += f" {worst.usage:.2f}"
    return (
        (fit(clean(title), max(cells - width(said) - 1, 4)), "title"),
        (" ", ""),
        (said, marks.style(result.verdict)),
    )


def _worst(result: ItemResult, cells: int, system: System) -> list[Line]:
    """The check that marks the card, right under the title: its mark, its name, what is against what."""
    worst = result.worst_check
    if worst is None:
        return []
    style = marks.style(worst.verdict)
    if worst.verdict == "ok" and worst.demand is None:
        return []
    words = "tightest check, " if worst.verdict == "ok" else ""
    room = max(cells - 2, 10)
    parts = wrap(f"{words}{worst.title}: {worst.said(system)}", room)
    if len(parts) > 3:
        parts = [*parts[:2], fit(f"{parts[2]} …", room)]
    return [
        Line(((f"{marks.shape(worst.verdict)} " if n == 0 else "  ", style), (p, style))) for n, p in enumerate(parts)
    ]


_LEAST_ROWS = 8  # a drawing in fewer rows says nothing: the results then have the whole width


def _drawing_and_results(
    result: ItemResult, cells: int, system: System, picture: Picture | None, rows: int
) -> list[Line]:
    """The drawing, whole in the rows the pane has left, beside the results that matter."""
    keys = registry(result.kind)
    first = [keys[k] for k in FIRST.get(result.kind, ()) if k in keys and k in result.results]
    drawn: list[Row] | None = None
    left = 0
    if not first and picture is not None and rows >= _LEAST_ROWS:  # nothing to stand beside it: the whole width
        return [Line(row) for row in _trimmed(picture(cells, min(rows, 10)) or [])]
    if picture is not None and cells >= 58 and rows >= _LEAST_ROWS:
        left = min(max(cells * 2 // 5, 26), 46)
        drawn = _trimmed(picture(left, max(min(left // 2, rows, 20), _LEAST_ROWS)) or [])
    room = cells - left - 2 if drawn else cells
    lines = [
        line for key in first for line in _result(key, result.results, room, system, False, set_said(result, 0, system))
    ]
    if not drawn:
        return lines
    out = []
    for number in range(max(len(drawn), len(lines))):
        a = fit_row(drawn[number] if number < len(drawn) else (), left)
        b = lines[number] if number < len(lines) else Line(())
        out.append(Line((*a, ("  ", ""), *b.row), b.target))
    return out


def _trimmed(rows: list[Row]) -> list[Row]:
    """A drawing without the blank rows above and below it."""
    inked = [number for number, row in enumerate(rows) if any(text.strip(" ⠀") for text, _ in row)]
    return rows[inked[0] : inked[-1] + 1] if inked else []


def _result(key: Key, results: Any, cells: int, system: System, every: bool, set_: str | None = None) -> list[Line]:
    value = results[key.key]
    label = max(min(cells - 18, 30), 12)
    title = clean(key.title) if width(key.title) <= label else SHORT.get(key.key, clean(key.title))
    head = (fit(title, label) + " ", "label")
    kind = _kind(key, results)
    if isinstance(value, list):
        text = list_said(value, kind, system, cells - label - 1)
        if key.key == "set_passes" and set_ is not None and width(set_) <= cells - label - 1:
            text = set_
        if text is None:
            return []
        return [Line((head, (text, "number")), ("result", key.key))]
    row: list[tuple[str, str]] = [head, *result_segs(float(value), kind, system, 8)]
    for end in ("low", "high"):
        other = results.get(f"{key.key}_{end}")
        if isinstance(other, int | float):
            row.append((f"  {end} {said_value(float(other), kind, system)}", "dim"))
    while row_width(row) > cells and len(row) > 3:
        row.pop()
    return [Line(tuple(row), ("result", key.key))]


def _kind(key: Key, results: Any) -> str:
    """Kind of a result; set values are pressures or torques as the tool's gauge is."""
    if key.key in ("set_passes", "set_snug"):
        return "pressure" if results.get("set_is_pressure") else "torque"
    return key.kind


def set_said(result: ItemResult, size: int, system: System) -> str | None:
    """Set values of the passes of a size on one line, as gauge or wrench shows them."""
    settings = result.settings
    if settings is None:
        return None
    told = [settings.of_size(size, share).figure(system) for share in settings.shares]
    return f"{' · '.join(number for number, _ in told)} {told[0][1]}" if all(number for number, _ in told) else None


def list_said(values: list[Any], kind: str, system: System, cells: int) -> str | None:
    """A list of numbers on one line, its unit said once; None for a table."""
    if not values or any(isinstance(v, list) for v in values):
        return None
    shown = [said_value(float(v), kind, system) for v in values]
    unit = shown[0].partition(" ")[2]
    text = " · ".join(s.partition(" ")[0] for s in shown) + (f" {unit}" if unit else "")
    if width(text) <= cells:
        return text
    low, high = min(values), max(values)
    low_said = said_value(low, kind, system)
    if low_said == said_value(high, kind, system):
        return f"{len(values)} × {low_said}"
    said = f"{low_said.partition(' ')[0] if unit else low_said} to {said_value(high, kind, system)}"
    return fit(said, min(width(said), max(cells, 8)))


def _cases(result: ItemResult, cells: int, system: System) -> list[Line]:
    out: list[Line] = []
    keys = registry(result.kind)
    for number, group in enumerate((*result.cases, *result.sizes)):
        size = number - len(result.cases) + 1
        set_ = set_said(result, size, system) if size > 0 else None
        name = group.name or "bolts " + ", ".join(map(str, group.bolts))
        out.append(Line(rule(cells, clean(name))))
        for key in group.results:
            if key in keys:
                lines = _result(keys[key], group.results, cells, system, False, set_)
                out += [Line(line.row, ("group", number, key)) for line in lines]
    return out


def _tail(result: ItemResult, cells: int) -> list[Line]:
    out: list[Line] = []
    if result.defaults:
        out.append(Line(rule(cells, "taken where nothing was given")))
        for default in result.defaults:
            name = label_of(default.field.replace(".", " › "))
            parts = wrap(f"{default.said}: {default.basis}", max(cells - 25, 12), 4)
            out.append(Line(((fit(clean(name), 24) + " ", "label"), (parts[0], "default"))))
            out += [Line(((" " * 25, ""), (p, "default"))) for p in parts[1:]]
    if result.notes:
        out.append(Line(rule(cells, "notes")))
        out += [Line(((p, "dim"),)) for note in result.notes for p in wrap(note, cells, 6)]
    return out
