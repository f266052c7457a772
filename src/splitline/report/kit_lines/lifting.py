"""What the lifts take: slings, shackles, fittings, hoists, beams. A tag stands for one piece, whatever it is used for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.assess.lift_told import LegLoad, greatest_leg
from splitline.assess.result import ItemResult
from splitline.library.rigging import ADJUSTER, BEAM, SHACKLE, SLING
from splitline.plan.model import Lift, Plan
from splitline.plan.model.lift import Leg
from splitline.report.kit_lines.lengths import bought, length_said
from splitline.report.kit_lines.line import Line, merged, rated
from splitline.units import System, show

SLINGS, FITTINGS, HOISTS = "Slings", "Shackles and fittings", "Hoists and adjusters"
BEAMS, GUIDE = "Beams", "Guide pins"


def lifting_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lines of all lifts."""
    slings: list[Line] = []
    rest: list[Line] = []
    for lift in plan.lifts:
        item = assessment.find("lift", lift.id)
        slings += _slings(lift, item, system)
        rest += _unchosen(lift, item, system)
        rest += _per_lift([*_fittings(lift, item, system), *_hoists(lift, item, system), *_beam(lift, item, system)])
        rest += _guides(lift, plan, system)
    rest += _lug_shackles(plan, assessment, system)
    order = (SLINGS, FITTINGS, HOISTS, BEAMS, GUIDE)
    tags = {_where(lift, n): leg.tag for lift in plan.lifts for n, leg in enumerate(lift.leg, 1) if leg.tag}
    found = [*_one_tag_one_thing(_by_tag(slings)), *(_under_two_tags(line, tags) for line in merged(rest))]
    return sorted(found, key=lambda line: order.index(line.section))


def _under_two_tags(line: Line, tags: Mapping[str, str]) -> Line:
    """Says of a piece counted once for several lifts that their legs carry unlike tags: it may be two pieces."""
    if line.section not in (FITTINGS, HOISTS) or line.needed is None or line.needed >= len(line.used_in):
        return line
    own = tuple(dict.fromkeys(tags[where] for where in line.used_in if where in tags))
    if len(own) <= line.needed:
        return line
    said = f"legs under the tags {', '.join(own)}: {line.needed} only if moved over from lift to lift, else one for each tag"
    return _noted(line, said)


def _one_tag_one_thing(lines: list[Line]) -> list[Line]:
    """Says where one tag stands on two legs of one lift, or under two descriptions: a tag is one piece."""
    whats: dict[str, set[str]] = {}
    for line in lines:
        for tag in line.serials:
            whats.setdefault(tag, set()).add(line.what)
    found = []
    for line in lines:
        lifts = [where.rpartition(" leg ")[0] for where in line.used_in]
        twice = [lift for lift in dict.fromkeys(lifts) if lifts.count(lift) > 1]
        if line.serials and twice:
            line = _noted(line, f"ONE TAG ON TWO LEGS of {', '.join(twice)}: a tag is one piece")
        if any(len(whats[tag]) > 1 for tag in line.serials):
            line = _noted(line, "ONE TAG, TWO DESCRIPTIONS: a tag is one piece")
        found.append(line)
    return found


def _noted(line: Line, said: str) -> Line:
    return replace(line, note=f"{line.note}; {said}" if line.note else said)


def _where(lift: Lift, number: int) -> str:
    return f"{lift.id} leg {number}"


def _slings(lift: Lift, item: ItemResult | None, system: System) -> Iterator[Line]:
    lengths = (item.results.get("leg_length") if item is not None else None) or ()
    for number, leg in enumerate(lift.leg, 1):
        length = lengths[number - 1] if number <= len(lengths) else leg.length
        adjusts = leg.adjusts
        size = None if length is None else length_said(bought(length, adjusts, system), system)
        if size is not None and leg.hitch == "basket":
            size += " each part, twice that and round the load"
        pull = _pull(_leg(item, number), system)
        pull = "; ".join(filter(None, (pull, "the adjuster makes up the rest" if adjusts else "")))
        yield Line(
            SLINGS,
            _sling(leg, system),
            size,
            1,
            0,
            (leg.tag,) if leg.tag else (),
            (_where(lift, number),),
            "; ".join(
                filter(None, (f"{leg.hitch or 'single'}{f', {pull}' if pull else ''}", _papers(item, number, SLING)))
            ),
        )
    beam = lift.spreader
    if beam is not None:
        capacity = rated(beam.upper_capacity, system) if beam.upper_capacity is not None else "capacity not given"
        size = length_said(bought(beam.upper_length, False, system), system) if beam.upper_length is not None else None
        count = len(beam.upper) if beam.upper is not None else None
        yield Line(SLINGS, f"upper sling of the beam, {capacity}", size, count, 0, (), (lift.id,))


def _leg(item: ItemResult | None, number: int) -> LegLoad | None:
    legs = item.legs if item is not None else ()
    return legs[number - 1] if number <= len(legs) else None


def _pull(leg: LegLoad | None, system: System) -> str:
    """What a leg pulls: no part of it may be rated for less than what governs."""
    return f"pulls {leg.said(system)}" if leg is not None else ""


def _papers(item: ItemResult | None, number: int | None, kind: str) -> str:
    """Certificate and day of inspection from the site's register; empty where it does not hold the tag."""
    pieces = item.lift.pieces if item is not None else ()
    found = next((each.row for each in pieces if each.number == number and each.kind == kind), None)
    return found.said() if found is not None else ""


def _sling(leg: Leg, system: System) -> str:
    if leg.sling:
        return leg.sling
    return f"sling, capacity {rated(leg.capacity, system)}" if leg.capacity is not None else "sling, not chosen"


def _by_tag(lines: list[Line]) -> list[Line]:
    """One line a tag; where one tag hangs at several lengths, every length is said."""
    found: dict[tuple[Any, ...], Line] = {}
    for line in lines:
        key: tuple[Any, ...] = (line.serials, line.what) if line.serials else (line.what, line.size, line.used_in)
        before = found.get(key)
        if before is None:
            found[key] = line
            continue
        sizes = [size for size in (before.size, line.size) if size is not None]
        one = sizes[0] if len(set(sizes)) == 1 else " and ".join(dict.fromkeys(sizes)) or None
        notes = "; ".join(dict.fromkeys((before.note, line.note)))
        found[key] = replace(before, size=one, used_in=(*before.used_in, *line.used_in), note=notes)
    return list(found.values())


def _per_lift(lines: list[Line]) -> list[Line]:
    """Equal pieces of one lift counted together."""
    found: dict[tuple[Any, ...], Line] = {}
    for line in lines:
        key = (line.section, line.what, line.size)
        before = found.get(key)
        if before is not None and before.needed is not None and line.needed is not None:
            used, notes = (*before.used_in, *line.used_in), "; ".join(dict.fromkeys((before.note, line.note)))
            line = replace(before, needed=before.needed + line.needed, used_in=used, note=notes)
        found[key] = line
    return list(found.values())


def _fittings(lift: Lift, item: ItemResult | None, system: System) -> Iterator[Line]:
    for number, leg in enumerate(lift.leg, 1):
        used = (_where(lift, number),)
        if leg.fitting and leg.fitting != "lug":
            size = rated(leg.fitting_capacity, system) if leg.fitting_capacity is not None else None
            yield Line(FITTINGS, leg.fitting, size, 1, 0, (), used)
        if leg.shackle_capacity is not None:
            own = (leg.shackle_tag,) if leg.shackle_tag else ()
            yield Line(FITTINGS, "shackle", rated(leg.shackle_capacity, system), 1, 0, own, used)
        elif leg.shackle_tag:
            yield Line(FITTINGS, "shackle", None, 1, 0, (leg.shackle_tag,), used, _papers(item, number, SHACKLE))


def _unchosen(lift: Lift, item: ItemResult | None, system: System) -> Iterator[Line]:
    """What holds a leg to the load where the plan does not say: a line of its own, not a line less."""
    lacking = {check.leg for check in item.checks_of("missing") if check.key == "fitting"} if item is not None else ()
    for number, leg in enumerate(lift.leg, 1):
        if leg.fitting or number not in lacking:
            continue
        pull = _pull(_leg(item, number), system)
        said = f"not chosen in the plan{f'; {pull}' if pull else ''}"
        yield Line(FITTINGS, "fitting at the load", None, 1, 0, (), (_where(lift, number),), said)


def _lug_shackles(plan: Plan, assessment: Assessment, system: System) -> Iterator[Line]:
    """Shackles nobody chose yet. Slings of the same tags hang in the same shackles, whatever they lift."""
    found: dict[tuple[str, ...], list[tuple[str, LegLoad | None]]] = {}
    needed: dict[tuple[str, ...], int] = {}
    for lift in plan.lifts:
        item = assessment.find("lift", lift.id)
        legs = [(number, leg) for number, leg in enumerate(lift.leg, 1) if leg.fitting == "lug" and not leg.shackled]
        if not legs:
            continue
        tags = tuple(sorted(leg.tag for _, leg in legs if leg.tag))
        key = tags if len(tags) == len(legs) else (lift.id,)
        needed[key] = max(needed.get(key, 0), len(legs))
        found.setdefault(key, []).extend((_where(lift, number), _leg(item, number)) for number, _ in legs)
    for key, uses in found.items():
        pull = _pull(greatest_leg(tuple(leg for _, leg in uses if leg is not None)), system)
        note = f"capacity not given in the plan{f'; {pull}' if pull else ''}"
        yield Line(FITTINGS, "shackle to the lug", None, needed[key], 0, (), tuple(where for where, _ in uses), note)


def _hoists(lift: Lift, item: ItemResult | None, system: System) -> Iterator[Line]:
    for number, leg in enumerate(lift.leg, 1):
        if leg.adjuster_capacity is not None:
            step = f", step {show(leg.adjuster_step, 'length', system)}" if leg.adjuster_step is not None else ""
            hoist = f"{rated(leg.adjuster_capacity, system)}{step}"
            own = (leg.adjuster_tag,) if leg.adjuster_tag else ()
            yield Line(HOISTS, "chain hoist or turnbuckle", hoist, 1, 0, own, (_where(lift, number),))
        elif leg.adjuster_tag:
            said = _papers(item, number, ADJUSTER)
            yield Line(
                HOISTS, "chain hoist or turnbuckle", None, 1, 0, (leg.adjuster_tag,), (_where(lift, number),), said
            )
    if lift.tail is not None and lift.tail.kind == "hook":
        capacity = lift.tail.capacity
        size = rated(capacity, system) if capacity is not None else None
        yield Line(HOISTS, "rigging of the tail hook", size, 1, 0, (), (lift.id,))


def _beam(lift: Lift, item: ItemResult | None, system: System) -> Iterator[Line]:
    if lift.spreader is not None:
        mass = lift.spreader.mass
        size = show(mass, "mass", system) if mass is not None else None
        own = (lift.spreader.tag,) if lift.spreader.tag else ()
        yield Line(BEAMS, "spreader or lifting beam", size, 1, 0, own, (lift.id,), _papers(item, None, BEAM))


def _guides(lift: Lift, plan: Plan, system: System) -> Iterator[Line]:
    """Guide pins a spigot asks for; where an item of the plan names them, it says how many."""
    if lift.spigot is None or any(_names_pins(item, lift.id) for item in plan.items):
        return
    length = lift.spigot.guide_pin_length
    size = f"{show(length, 'length', system)} beyond the face" if length is not None else None
    yield Line(GUIDE, "guide pin", size, 2, 0, (), (lift.id,), "two, of unlike length: common practice, no published source",
               True)  # fmt: skip


def _names_pins(item: Any, lift: str) -> bool:
    used = (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()
    return item.kind == "guide pins" and lift in used
