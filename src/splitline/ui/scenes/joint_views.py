"""The drawings of a joint: map, passes, section, diagram."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from splitline.assess.result import Group, ItemResult
from splitline.assess.stud_loads import TOLD, StudLoads, StudNow, advice, chance_text, sentence, stud_loads
from splitline.assess.tightening_play import chance_of, compare_ways, need_of, play
from splitline.errors import SplitlineError
from splitline.library.threads import parse_designation
from splitline.plan.model import Joint
from splitline.record.from_plan import noun_of
from splitline.ui.draw.bolt_map import Mark, bolt_map
from splitline.ui.draw.joint_diagram import Springs, joint_diagram
from splitline.ui.draw.joint_section import BoltSection, joint_section
from splitline.ui.draw.passes import Rule, pass_bars, step_row
from splitline.ui.draw.rows import Row, beside, wrap
from splitline.ui.draw.stud_bands import Band, stud_bands
from splitline.ui.draw.ways import chance_said, ways_table
from splitline.ui.scenes.joint import JointScene, joint_scene
from splitline.ui.scenes.view import View
from splitline.ui.standing import entries_beside
from splitline.units import System, show


def joint_views(joint: Joint, result: ItemResult | None, system: System, path: Path | None = None) -> tuple[View, ...]:
    """Views that can be drawn of what is known."""
    found: list[View] = []
    scene = joint_scene(joint, result, system)
    if scene is not None:
        steps = scene.steps
        shares = _last_pass(scene)
        found.append(View("m", "map", lambda w, h, f: _map(scene, shares, w, h, f), max(len(steps), 1), why="order"))
        if steps:
            found.append(View("n", "order", lambda w, h, f: _order(scene, w, h), why="order"))
        found += [
            view
            for view in (_played(scene, system), _studs(scene, system, path), _ways(scene, system))
            if view is not None
        ]
    if (part := _section(joint, result)) is not None:
        labels = _section_labels(joint, result, part, system)
        found.append(View("s", "section", lambda w, h, f: joint_section(part, labels, w, h), why="stretch"))
    cases = _springs(result, system)
    if cases:
        found.append(
            View("d", "diagram", lambda w, h, f: joint_diagram(*cases[f], w, h), len(cases), why="load_factor")
        )
    return tuple(found)


def _map(scene: JointScene, shares: Sequence[Sequence[float]], width: int, height: int, frame: int) -> list[Row]:
    """The map with the order played up to a step, and the share of the target in each bolt in percent."""
    steps = scene.steps
    marks: dict[int, Mark] = dict(scene.marks())
    for step in steps[:frame]:
        marks |= dict.fromkeys(step, ("✓", "done"))
    now = steps[frame] if frame < len(steps) else ()
    marks |= dict.fromkeys(now, ("▸", "now"))
    after = steps[frame + 1] if frame + 1 < len(steps) else ()
    marks |= {bolt: ("·", "next") for bolt in after if bolt not in now}
    trace = steps[max(0, frame - 1) : frame + 2]  # where the tools came from, and where they go next
    loads = shares[frame] if frame < len(shares) else ()
    room = width >= 90 and len(scene.places) <= 2 * height - 8  # else a percentage is taken for a bolt's number
    rows = bolt_map(
        scene.places,
        scene.numbers,
        marks,
        width,
        max(height - 2, 3),
        figures={bolt: f"{100 * share:.0f}" for bolt, share in enumerate(loads, 1)} if room else None,
        trace=trace,
        tools=now,
        centre=scene.centre,
    )
    said = (
        f" pull {frame + 1} of {len(steps)}   bolts {' + '.join(map(str, now))}"
        if steps
        else " the order is not known yet"
    )
    seen = scene.joint.layout.seen_from if scene.joint.layout is not None else None
    tail = f"    seen from {seen}" if seen else ""
    told = "    beside each bolt: % of its target, last pass" if loads and room else ""
    tail += told if len(said) + len(tail) + len(told) <= width else "    % of target, last pass" if told else ""
    return [*rows, ((said, "strong"), (tail, "dim")), step_row(steps, frame, width)]


def _order(scene: JointScene, width: int, height: int) -> list[Row]:
    """The map with the step of each bolt behind its number, and the trace of the whole pass."""
    steps = scene.steps
    place = {bolt: f"/{number}" for number, step in enumerate(steps, 1) for bolt in step}
    first = dict.fromkeys(steps[0], ("▸", "next"))
    marks = {**scene.marks(), **first}
    rows = bolt_map(
        scene.places,
        scene.numbers,
        marks,
        width,
        max(height - 1, 3),
        figures=place,
        trace=steps if len(steps) <= 24 else (),
    )
    return [*rows, ((" bolt /step in which it is tightened, in every pass", "dim"),)]


def _last_pass(scene: JointScene) -> tuple[tuple[float, ...], ...]:
    """Shares of the target after each step of the last pass (not of the check rounds), where they are predicted."""
    if scene.result is None:
        return ()
    frames = [frame for frame in play(scene.result) if not frame.pass_name.startswith("round")]
    last = frames[-1].pass_name if frames else ""
    return tuple(frame.shares for frame in frames if frame.pass_name == last)


def _played(scene: JointScene, system: System) -> View | None:
    """Preload of every bolt after each step, as predicted."""
    if scene.result is None:
        return None
    frames = play(scene.result)
    if not frames:
        return None
    target = scene.value("preload")
    rules = []
    if target and (need := need_of(scene.result)) is not None:
        rules.append(Rule(need / target, "need", "need"))
    found = scene.result.joint.predicted
    if target and found is not None and (limit := found.limit):
        rules.append(Rule(limit / target, "yield", "limit"))
    chance = chance_of(scene.result)
    said = [f"Chance under need, any bolt, after the last pull: {chance_said(chance)}."] if chance is not None else []
    warnings = list(scene.result.joint.warnings)
    said = [*warnings, *said, *(note for note in scene.result.notes if note not in warnings)]

    def draw(width: int, height: int, frame: int) -> list[Row]:
        now = frames[frame]
        of = f"pass {now.pass_name}" if not now.pass_name.startswith(("snug", "round")) else now.pass_name
        tools = " and ".join(map(str, now.bolts))
        still = [b for b in now.bolts if b not in now.moved]
        title = f" {of}, pull {now.step} of {now.steps} · tools on {tools}"
        title += f" · {', '.join(map(str, still))} held more already" if still else ""
        so_far = f" of the {now.alike} pulled" if now.alike < len(now.shares) else ""
        lowest = f"lowest {100 * now.shares[now.lowest - 1]:.0f} % (bolt {now.lowest})"
        facts = f"{lowest}   interaction spread{so_far} {100 * now.spread:.1f} %"
        whole = [line for note in warnings for line in wrap(note, width - 2, 6)]  # a caution is never cut
        lines = [line for note in said for line in wrap(note, width - 2, 6 if note in warnings else 2)]
        lines = lines[: max(height // 6, len(whole), 1)]
        if width < 100:
            facts = lowest.partition(" (")[0] + f"   interaction{so_far} {100 * now.spread:.1f} %"
        bars = height - len(lines)
        aside = 46 if width >= 132 and bars >= 18 else 0  # room for the map with the tools on it
        rows = pass_bars(now.shares, width - aside, bars, rules=rules, tools=now.bolts, title=title, facts=facts)
        if aside:
            rows = beside(rows, [(), *_tools(scene, now.bolts, now.moved, aside - 2, bars - 2)], width - aside)
        return [*rows, *(((f" {line}", "dim"),) for line in lines)]

    return View("p", "passes", draw, len(frames), len(frames) - 1, "predicted_low")


def _studs(scene: JointScene, system: System, path: Path | None) -> View | None:
    """What is in every stud: as planned, or by the record beside the plan; computed beside the screen."""
    result = scene.result
    if result is None or result.joint.predicted is None:
        return None
    kept: list[StudLoads] = []

    def prepare() -> None:
        found = stud_loads(result, scene.joint, entries_beside(path))
        kept[:] = [found] if found is not None else []

    def draw(width: int, height: int, frame: int) -> list[Row]:
        if not kept:
            return [(), ((" estimating what is in every stud ...", "dim"),)]
        found, noun = kept[0], noun_of(scene.joint)
        said = [*wrap(f"{TOLD}; {sentence(found, noun, system)}", width - 2, 3)]
        said += [line for text in advice(found, noun, system) for line in wrap(text, width - 2, 3)]
        said = said[: max(height // 3, 3)]
        bands = [
            Band(each.stud, each.low, each.load, each.high, _doubtful(each, found), _likely(each, system), each.read)
            for each in found.studs
        ]
        ends = (("need", found.need), ("yield", found.limit))
        rules = [f"│ {word} {show(value, 'force', system)}" for word, value in ends if value is not None]
        legend = "   ".join(("● expected", "◆ read", *rules, *(("right: chance above need",) if found.need else ())))
        rows = stud_bands(bands, found.need, found.limit, legend, width, height - len(said))
        return [*rows, *(((f" {line}", "dim"),) for line in said)]

    return View("b", "in every stud", draw, why="predicted_deviation", prepare=prepare)


def _doubtful(each: StudNow, found: StudLoads) -> str:
    if each.below_need is None:
        return "number"
    return "ok" if each.below_need <= 1 - found.confidence else "fails" if each.below_need > 0.5 else "near"


def _likely(each: StudNow, system: System) -> str:
    if each.below_need is None:
        return show(each.load, "force", system)
    return chance_text(1 - each.below_need)


def _tools(scene: JointScene, tools: Sequence[int], moved: Sequence[int], width: int, height: int) -> list[Row]:
    """The map with the tools on it; a nut that stood still already wears its own mark."""
    marks: dict[int, Mark] = {**scene.marks(), **dict.fromkeys(tools, ("▸", "now"))}
    marks |= {bolt: ("=", "dim") for bolt in tools if bolt not in moved}
    return bolt_map(scene.places, scene.numbers, marks, width, min(height, width // 2 + 2), tools=tools)


def _ways(scene: JointScene, system: System) -> View | None:
    """Alternatives of tightening, side by side; computed beside the screen when first looked at."""
    result = scene.result
    if result is None or result.joint.predicted is None:
        return None
    kept: list[Any] = []

    def prepare() -> None:
        kept.append(compare_ways(scene.joint, result))

    def draw(width: int, height: int, frame: int) -> list[Row]:
        if not kept:
            return [(), ((" computing other orders, tools and rounds ...", "dim"),)]
        return ways_table(kept[0], width, height, system)

    return View("o", "alternatives", draw, why="predicted_spread", prepare=prepare)


def _section(joint: Joint, result: ItemResult | None) -> BoltSection | None:
    bolting = joint.bolting
    results: Any = result.results if result is not None else {}
    if bolting is None or not bolting.clamp_length:
        return None
    diameter = _nominal(bolting.thread)
    if diameter is None:
        return None
    screw = bolting.kind == "cap-screw"
    flats = bolting.across_flats or results.get("across_flats") or 1.55 * diameter
    return BoltSection(
        diameter=diameter,
        clamp=bolting.clamp_length,
        engagement=(bolting.engagement or 1.2 * diameter) if bolting.kind in ("stud", "cap-screw") else 0.0,
        nut=bolting.nut_height or diameter,
        across=1.5 * diameter if screw else flats,  # the flats of a cap screw are those of its socket
        head=0.625 * diameter if bolting.kind == "bolt" else 0.0,  # about that of ISO 4014; only drawn
        socket=flats if screw and flats < diameter else 0.0,
        washer=bolting.washer_thickness or 0.0,
        washer_diameter=bolting.washer_diameter or 1.8 * diameter,
        hole=bolting.hole_diameter or results.get("hole_diameter") or 1.1 * diameter,
        shank=bolting.shank_diameter or 0.0,
        shank_length=bolting.shank_length or 0.0,
        bore=bolting.heater_bore or 0.0,
        protrusion=0.0 if screw else bolting.stud_protrusion or 0.1 * diameter,
        layers=tuple(layer.thickness or 0.0 for layer in joint.layer),
    )


def _nominal(thread: str | None) -> float | None:
    """Nominal diameter of a designation, m."""
    if not thread:
        return None
    try:
        return float(parse_designation(thread).d)
    except (SplitlineError, AttributeError):
        return None


def _section_labels(joint: Joint, result: ItemResult | None, part: BoltSection, system: System) -> dict[str, str]:
    def said(value: float) -> str:
        return show(value, "length", system)

    bolting = joint.bolting
    assert bolting is not None
    labels = {
        "thread": f"{bolting.thread}  {bolting.grade or ''}".strip(),
        "clamp": f"clamp length {said(part.clamp)}",
        "nut": f"{'head' if bolting.kind == 'cap-screw' else 'nut'} {said(part.nut)}",
        "hole": f"hole ⌀ {said(part.hole)}",
    }
    if part.head:
        labels["head"] = "head"
    if part.engagement:
        labels["engagement"] = f"engagement {said(part.engagement)}"
    if part.shank:
        labels["shank"] = f"shank ⌀ {said(part.shank)} × {said(part.shank_length)}"
    if part.bore:
        labels["bore"] = f"bore ⌀ {said(part.bore)}"
    if part.washer:
        labels["washer"] = f"washer {said(part.washer)}"
    if len(part.layers) > 1:
        labels["layers"] = "layers from the nut: " + ", ".join(said(size) for size in part.layers)
    labels["tapped"] = "tapped part" if part.engagement else ""
    labels["parts"] = "clamped parts" if len(part.layers) > 1 else "clamped part"
    if bolting.stud_protrusion:
        labels["protrusion"] = f"protrusion {said(part.protrusion)}"
    stretch = result.results.get("stretch") if result is not None else None
    if isinstance(stretch, int | float):
        labels["clamp"] += f", stretch {said(stretch)}"
    return labels


def _springs(result: ItemResult | None, system: System) -> list[tuple[Springs, dict[str, str]]]:
    """One diagram a load case, or one without a case."""
    results: Any = result.results if result is not None else {}
    if result is None or not all(results.get(k) for k in ("preload", "bolt_stiffness", "member_stiffness")):
        return []
    cases: Sequence[Group] = [c for c in result.cases if c.results.get("force_per_bolt")] or [Group("no load", (), {})]
    return [_spring(results, case, system) for case in cases]


def _share(springs: Springs, system: System) -> str:
    """How much of the outside force the bolt feels; the rest comes off the clamp."""
    part = springs.bolt / (springs.bolt + springs.member)
    return f"{show(part * springs.outside, 'force', system)} of it on the bolt ({100 * part:.0f} %)"


def _spring(results: Any, case: Group, system: System) -> tuple[Springs, dict[str, str]]:
    def said(value: float | None, word: str, kind: str = "force") -> str:
        return f"{word} {show(value, kind, system)}" if value is not None else ""

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
        "title": f" {case.name}: force over stretch of the bolt and squeeze of the clamped parts",
        "preload": said(springs.preload, "target"),
        "low": said(springs.low, "low"),
        "high": said(springs.high, "high"),
        "outside": said(springs.outside, "outside"),
        "share": _share(springs, system),
        "residual": said(springs.residual, "clamp left, at low"),
        "bolt_load": said(springs.bolt_load, "bolt, at high"),
        "stretch": said(springs.preload / springs.bolt, "stretch", "length"),
        "squeeze": said(springs.preload / springs.member, "squeeze", "length"),
    }
    return springs, labels
