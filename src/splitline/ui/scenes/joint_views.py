"""The drawings of a joint: map, passes, section, diagram."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from splitline.assess.result import Group, ItemResult
from splitline.plan.model import Joint
from splitline.ui.draw.bolt_map import Mark, bolt_map
from splitline.ui.draw.joint_diagram import Springs, joint_diagram
from splitline.ui.draw.joint_section import BoltSection, joint_section
from splitline.ui.draw.passes import Rule, pass_bars, step_row
from splitline.ui.draw.rows import Row, wrap
from splitline.ui.scenes.joint import JointScene, joint_scene
from splitline.ui.screens.view import View
from splitline.units import show


def joint_views(joint: Joint, result: ItemResult | None, system: str) -> tuple[View, ...]:
    """Views that can be drawn of what is known."""
    found: list[View] = []
    scene = joint_scene(joint, result, system)
    if scene is not None:
        steps = scene.steps
        found.append(View("m", "map", lambda w, h, f: _map(scene, w, h, f), max(len(steps), 1), why="order"))
        if passes := Passes.of(scene):
            found.append(
                View("p", "passes", lambda w, h, f: passes.draw(w, h, f), len(passes.frames), len(passes.frames) - 1, "predicted_low")
            )
    if (part := _section(joint, result)) is not None:
        labels = _section_labels(joint, result, part, system)
        found.append(View("s", "section", lambda w, h, f: joint_section(part, labels, w, h), why="stretch"))
    cases = _springs(result, system)
    if cases:
        found.append(View("d", "diagram", lambda w, h, f: joint_diagram(*cases[f], w, h), len(cases), why="load_factor"))
    return tuple(found)


def _map(scene: JointScene, width: int, height: int, frame: int) -> list[Row]:
    """The map with the order played up to a step."""
    steps = scene.steps
    marks: dict[int, Mark] = dict(scene.marks())
    for step in steps[:frame]:
        marks |= {bolt: ("✓", "done") for bolt in step}
    now = steps[frame] if frame < len(steps) else ()
    marks |= {bolt: ("▸", "now") for bolt in now}
    after = steps[frame + 1] if frame + 1 < len(steps) else ()
    marks |= {bolt: ("·", "next") for bolt in after if bolt not in now}
    trace = steps[max(0, frame - 3) : frame + 1] if frame else steps[: min(len(steps), 9)]
    rows = bolt_map(
        scene.places, scene.numbers, marks, width, max(height - 2, 3), trace=trace, tools=now, centre=scene.centre
    )
    said = f" step {frame + 1} of {len(steps)}   bolts {' + '.join(map(str, now))}" if steps else " the order is not known yet"
    seen = scene.joint.layout.seen_from if scene.joint.layout is not None else None
    tail = f"    seen from {seen}" if seen else ""
    return [*rows, ((said, "strong"), (tail, "dim")), step_row(steps, frame, width)]


class Passes:
    """Predicted preload after each step or pass, as shares of the target."""

    def __init__(self, scene: JointScene, frames: Sequence[tuple[str, tuple[int, ...], tuple[float, ...]]]) -> None:
        self.scene = scene
        self.frames = tuple(frames)
        self.rules = tuple(_rules(scene))

    @classmethod
    def of(cls, scene: JointScene) -> Passes | None:
        rows = scene.value("predicted_passes")
        target = scene.value("preload")
        if not rows or not target:
            return None
        names = _pass_names(scene.joint, len(rows))
        by_step = scene.result.extra.get("after_step") if scene.result is not None else None
        frames: list[tuple[str, tuple[int, ...], tuple[float, ...]]] = []
        steps = scene.steps
        targets = _targets(scene, len(rows[0]), target)
        if by_step is not None and steps and len(by_step) == len(rows) * len(steps):
            for number, loads in enumerate(by_step):
                place = number % len(steps)
                said = f"{names[number // len(steps)]}, step {place + 1} of {len(steps)}"
                frames.append((said, steps[place], tuple(float(f) / t for f, t in zip(loads, targets, strict=True))))
        else:
            for name, loads in zip(names, rows, strict=False):
                frames.append((f"after {name}", (), tuple(float(f) / t for f, t in zip(loads, targets, strict=True))))
        return cls(scene, frames)

    def draw(self, width: int, height: int, frame: int) -> list[Row]:
        said, tools, shares = self.frames[frame]
        lowest = min(range(len(shares)), key=shares.__getitem__)
        mean = sum(shares) / len(shares)
        spread = (max(shares) - min(shares)) / mean if mean > 0 else 0.0
        facts = f"lowest {100 * shares[lowest]:.0f} % (bolt {lowest + 1})   spread {100 * spread:.0f} %"
        title = f" {said}" + (f" · tools on {' and '.join(map(str, tools))}" if tools else "")
        notes = [n for n in (self.scene.result.notes if self.scene.result is not None else ())][:3]
        lines = [line for note in notes for line in wrap(note, width - 2, 2)][: max(height // 6, 1)]
        rows = pass_bars(shares, width, height - len(lines), rules=self.rules, tools=tools, title=title, facts=facts)
        return [*rows, *(((f" {line}", "dim"),) for line in lines)]


def _rules(scene: JointScene) -> list[Rule]:
    """Need and limit of the bolts as shares of the target, where the assessment says them."""
    extra: Any = scene.result.extra if scene.result is not None else {}
    target = scene.value("preload")
    found = []
    for key, word, style in (("need", "need", "need"), ("limit", "limit", "limit")):
        value = extra.get(key, extra.get(f"preload_{key}"))
        if isinstance(value, int | float) and target:
            found.append(Rule(float(value) / target, word, style))
    return found


def _targets(scene: JointScene, bolts: int, main: float) -> list[float]:
    """The target of every bolt; bolts of another size have their own."""
    out = [main] * bolts
    for group in scene.result.sizes if scene.result is not None else ():
        own = group.results.get("preload")
        for bolt in group.bolts:
            if own and 0 < bolt <= bolts:
                out[bolt - 1] = float(own)
    return out


def _pass_names(joint: Joint, count: int) -> list[str]:
    plan = joint.tightening
    snug = plan is None or plan.snug is None or plan.snug > 0
    shares = plan.passes if plan is not None and plan.passes else (0.3, 0.6, 1.0)
    names = ["snug"] * snug + [f"pass {n} of {len(shares)}, {100 * s:.0f} %" for n, s in enumerate(shares, 1)]
    return (names + [f"round {n}" for n in range(1, 60)])[:count]


def _section(joint: Joint, result: ItemResult | None) -> BoltSection | None:
    bolting = joint.bolting
    results: Any = result.results if result is not None else {}
    if bolting is None or not bolting.clamp_length:
        return None
    diameter = _nominal(bolting.thread)
    if diameter is None:
        return None
    return BoltSection(
        diameter=diameter,
        clamp=bolting.clamp_length,
        engagement=(bolting.engagement or 1.2 * diameter) if bolting.kind in ("stud", "cap-screw") else 0.0,
        nut=bolting.nut_height or diameter,
        across=bolting.across_flats or results.get("across_flats") or 1.55 * diameter,
        washer=bolting.washer_thickness or 0.0,
        washer_diameter=bolting.washer_diameter or 1.8 * diameter,
        hole=bolting.hole_diameter or results.get("hole_diameter") or 1.1 * diameter,
        shank=bolting.shank_diameter or 0.0,
        shank_length=bolting.shank_length or 0.0,
        bore=bolting.heater_bore or 0.0,
        protrusion=bolting.stud_protrusion or 0.1 * diameter,
        layers=tuple(layer.thickness or 0.0 for layer in joint.layer),
    )


def _nominal(thread: str | None) -> float | None:
    """Nominal diameter of a designation, m."""
    if not thread:
        return None
    from splitline.errors import SplitlineError
    from splitline.library.threads import parse_designation

    try:
        return float(parse_designation(thread).d)
    except (SplitlineError, AttributeError):
        return None


def _section_labels(joint: Joint, result: ItemResult | None, part: BoltSection, system: str) -> dict[str, str]:
    def said(value: float) -> str:
        return show(value, "length", system)  # type: ignore[arg-type]

    bolting = joint.bolting
    assert bolting is not None
    labels = {
        "thread": f"{bolting.thread}  {bolting.grade or ''}".strip(),
        "clamp": f"clamp length {said(part.clamp)}",
        "nut": f"nut {said(part.nut)}",
        "hole": f"hole ⌀ {said(part.hole)}",
    }
    if part.engagement:
        labels["engagement"] = f"engagement {said(part.engagement)}"
    if part.shank:
        labels["shank"] = f"shank ⌀ {said(part.shank)} × {said(part.shank_length)}"
    if part.bore:
        labels["bore"] = f"bore ⌀ {said(part.bore)}"
    if bolting.stud_protrusion:
        labels["protrusion"] = f"protrusion {said(part.protrusion)}"
    stretch = result.results.get("stretch") if result is not None else None
    if isinstance(stretch, int | float):
        labels["clamp"] += f", stretch {said(stretch)}"
    return labels


def _springs(result: ItemResult | None, system: str) -> list[tuple[Springs, dict[str, str]]]:
    """One diagram a load case, or one without a case."""
    results: Any = result.results if result is not None else {}
    if result is None or not all(results.get(k) for k in ("preload", "bolt_stiffness", "member_stiffness")):
        return []
    cases: Sequence[Group] = [c for c in result.cases if c.results.get("force_per_bolt")] or [Group("no load", (), {})]
    return [_spring(results, case, system) for case in cases]


def _spring(results: Any, case: Group, system: str) -> tuple[Springs, dict[str, str]]:
    def said(value: float | None, word: str, kind: str = "force") -> str:
        return f"{word} {show(value, kind, system)}" if value is not None else ""  # type: ignore[arg-type]

    own = case.results
    springs = Springs(
        preload=results["preload"],
        bolt=results["bolt_stiffness"],
        member=results["member_stiffness"],
        low=results.get("preload_low"),
        high=results.get("preload_high"),
        outside=own.get("force_per_bolt", 0.0),
        residual=own.get("residual_clamp"),
        bolt_load=own.get("bolt_load_high"),
    )
    labels = {
        "title": f"{case.name}: force over stretch of the bolt and squeeze of the clamped parts",
        "preload": said(springs.preload, "target"),
        "low": said(springs.low, "low"),
        "high": said(springs.high, "high"),
        "outside": said(springs.outside, "outside"),
        "residual": said(springs.residual, "clamp left"),
        "bolt_load": said(springs.bolt_load, "bolt"),
        "stretch": said(springs.preload / springs.bolt, "stretch", "length"),
        "squeeze": said(springs.preload / springs.member, "squeeze", "length"),
    }
    return springs, labels
