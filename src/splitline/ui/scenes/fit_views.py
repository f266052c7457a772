"""The drawings of a fit: section with pressures, and the mounting steps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from splitline.assess.result import ItemResult
from splitline.plan.model import Fit
from splitline.ui import marks
from splitline.ui.draw.fit_section import FitSection, fit_section
from splitline.ui.draw.rows import Row, fit_row, wrap
from splitline.ui.scenes.view import View
from splitline.units import System, show


def fit_views(fit: Fit, result: ItemResult | None, system: System) -> tuple[View, ...]:
    """Views that can be drawn of what is known."""
    found: list[View] = []
    part = fit_part(fit, result, system)
    if part is not None:
        labels = fit_labels(fit, result, system)
        found.append(View("s", "section", lambda w, h, f: fit_section(part, labels, w, h), why="contact_pressure"))
    steps: Sequence[Any] = result.fit.mounting if result is not None else ()
    if steps:
        found.append(View("n", "mounting", lambda w, h, f: _mounting(steps, system, w, h, f), len(steps)))
    return tuple(found)


def fit_part(fit: Fit, result: ItemResult | None, system: System) -> FitSection | None:
    """The section's numbers, None while a diameter is missing."""
    if fit.shaft_diameter is None or fit.hub_outer is None or fit.length is None:
        return None
    results: Any = result.results if result is not None else {}
    wanted = (
        ("contact_pressure_at_speed", "contact at speed", "ok"),
        ("contact_pressure", "contact at rest", "accent"),
        ("expansion_pressure", "oil to float, min", "near"),
        ("expansion_pressure_high", "oil to float, max", "near"),
        ("hub_stress", "hub stress", "dim"),
        ("hub_stress_mounting", "hub stress, mounting", "dim"),
    )
    there = [
        (word, float(results[key]), style) for key, word, style in wanted if isinstance(results.get(key), int | float)
    ]
    kinds = ["stress" if "stress" in word else "pressure" for word, _, _ in there]
    return FitSection(
        diameter=fit.shaft_diameter,
        bore=fit.shaft_bore or 0.0,
        outer=fit.hub_outer,
        length=fit.length,
        taper=fit.taper or 0.0,
        advance=float(results.get("advance", 0.0)) if fit.taper else 0.0,
        overlap=float(results.get("interference") or 0.0),
        pressures=there,
        said=[show(value, kind, system) for (_, value, _), kind in zip(there, kinds, strict=True)],
    )


def fit_labels(fit: Fit, result: ItemResult | None, system: System) -> dict[str, str]:
    """Dimensions as they stand beside the section."""
    results: Any = result.results if result is not None else {}

    def said(word: str, value: float | None) -> str:
        return f"{word} {show(value, 'length', system)}" if value is not None else ""

    labels = {
        "outer": said("hub ⌀", fit.hub_outer),
        "shaft": said("seat ⌀", fit.shaft_diameter),
        "bore": said("shaft bore ⌀", fit.shaft_bore) if fit.shaft_bore else "",
        "length": said("length", fit.length),
        "interference": said("interference", results.get("interference")),
    }
    if fit.taper:
        labels["taper"] = f"taper 1:{1 / fit.taper:g}"
        labels["advance"] = said("advance", results.get("advance"))
        labels["zero"] = "┆ large end at the witnessed zero" if results.get("advance") else ""
    return labels


def _mounting(steps: Sequence[Any], system: System, width: int, height: int, frame: int) -> list[Row]:
    """The mounting sequence, the step under the cursor in full."""
    rows: list[Row] = [()]
    first = 0
    blocks: list[list[Row]] = []
    for number, step in enumerate(steps):
        here = number == frame
        sign = {"hold": f" {marks.HOLD} hold", "witness": f" {marks.WITNESS} witness"}.get(step.sign, "")
        wait = f" {marks.WINDOW} {show(step.wait, 'time')}" if step.wait else ""
        head = (
            (f" {marks.NOW if here else marks.OPEN} {step.number:>2} ", "next" if here else "dim"),
            (step.name, "strong"),
        )
        block: list[Row] = [(*head, (sign, "near"), (wait, "near"))]
        block += [(("      ", ""), (part, "" if here else "dim")) for part in wrap(step.text, max(width - 8, 10), 6)]
        if here:
            limits = [limit.said(system) for limit in step.limits]
            logged = "log: " + ", ".join(limit.title for limit in step.log) if step.log else ""
            block += [(("      ", ""), (text, "accent")) for text in [*limits, logged] if text]
        blocks.append(block)
    while first < frame and sum(len(b) for b in blocks[first : frame + 1]) > height - 2:
        first += 1
    for block in blocks[first:]:
        rows += block
    return [fit_row(row, width) for row in rows[:height]]
