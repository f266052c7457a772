"""Tags of a lift against the site's rigging register: known, of the kind, in use, inspected, strong and long enough."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.lift_legs import LEG, SHEET, sling_tag
from splitline.assess.lift_load import TOLERANCE
from splitline.assess.sheet import Each, Row, Rule
from splitline.library.fittings import Fitting
from splitline.library.rigging import ADJUSTER, BEAM, SHACKLE, SLING, Tagged, registered, reject_signs, tagged
from splitline.library.slings import Sling
from splitline.library.store import plain
from splitline.plan.model.lift import Leg, Lift
from splitline.units import System, show

REGISTER = "the site's rigging register; ASME B30.9 and B30.26: no piece without its marking, none past its inspection"

PIECE = SHEET.axis("piece", leg="number", part="kind")  # pieces of a lift that carry a tag of a kind the register holds


@dataclass(frozen=True, slots=True)
class Piece:
    """A tag as a lift uses it, beside its row of the register; ``counted`` and ``length`` are what the plan counts on."""

    number: int | None  # leg, from 1; None for the beam
    kind: str
    tag: str
    row: Tagged | None
    field: str
    counted: float | None = None  # N
    sling: str | None = None
    length: float | None = None  # m
    on: tuple[int, ...] = ()  # legs the tag stands on

    @property
    def where(self) -> str:
        return f"Leg {self.number}: {self.kind} {self.tag}" if self.number is not None else f"Beam {self.tag}"


def _pieces(lift: Lift, context: Context) -> Iterator[Piece]:
    read = ((number, sling_tag(leg, number, lift, context)) for number, leg in enumerate(lift.leg, 1))
    tags = {number: tag for number, tag in read if tag}
    for number, leg in enumerate(lift.leg, 1):
        if tag := tags.get(number):
            on = tuple(other for other, its in tags.items() if plain(its) == plain(tag))
            named = context.library.get("slings", leg.sling) if leg.sling else None
            counted = leg.capacity if leg.capacity is not None else named["capacity"] if named is not None else None
            fixed = leg.length if not leg.adjusts and leg.hitch != "basket" else None
            row = tagged(context.library, tag)
            yield Piece(number, SLING, tag, row, f"leg.{number}.tag", counted, leg.sling, fixed, on)
        for kind, tag, counted in (
            (SHACKLE, leg.shackle_tag, leg.shackle_capacity),
            (ADJUSTER, leg.adjuster_tag, leg.adjuster_capacity),
        ):
            if tag:
                yield Piece(number, kind, tag, tagged(context.library, tag), f"leg.{number}.{kind}_tag", counted)
    beam = lift.spreader
    if beam is not None and beam.tag:
        yield Piece(None, BEAM, beam.tag, tagged(context.library, beam.tag), "spreader.tag", beam.capacity)


@SHEET.result()
def all_piece(lift: Lift, context: Context) -> tuple[Piece, ...]:
    """Nothing where the site keeps no such pieces in a register here: then the tag alone is read on site."""
    kept = {each.kind for each in registered(context.library)}
    return tuple(piece for piece in _pieces(lift, context) if piece.kind in kept)


@SHEET.check("rigging_register", "{piece.where}", PIECE, basis=REGISTER, after=("legs",))
def in_register(piece: Piece, lift: Lift, context: Context) -> Rule:
    row = piece.row
    if row is None:
        said = "is not in the rigging register: enter it in library.toml with its certificate, or use a piece that is"
        return Rule("fails", f"tag {piece.tag} {said}")
    if said := _barred(piece, row, context):
        return Rule("fails", said)
    if row.inspection_due is None:
        return Rule("missing", f"the register has no inspection_due for tag {piece.tag}: enter it", (piece.field,))
    slack = lift.length_tolerance if lift.length_tolerance is not None else TOLERANCE
    if piece.length and row.length and abs(piece.length / row.length - 1.0) > slack:
        own, wanted = (show(each, "length", context.system) for each in (row.length, piece.length))
        return Rule("near", f"the register has it {own} long, the plan hangs the load on {wanted}: the load will tilt")
    return Rule("ok", row.said())


def _barred(piece: Piece, row: Tagged, context: Context) -> str:
    """Why a piece may not be used here; empty where it may."""
    if row.kind != piece.kind:
        return f"the register has tag {piece.tag} as a {row.kind}"
    if row.withdrawn:
        return f"taken out of use: {row.withdrawn}"
    if row.lapsed(context.today):
        return f"its inspection was due {row.inspection_due}: not used before it is inspected"
    if len(piece.on) > row.legs:
        legs = ", ".join(map(str, piece.on))
        set_of = "one sling" if row.legs == 1 else f"a set of {row.legs} legs"
        return f"tag {piece.tag} stands on legs {legs}, and the register has it as {set_of}"
    if piece.sling and row.sling and not _same(piece.sling, row.sling, context):
        return f"the register has it as {row.sling}, the plan counts on {piece.sling}"
    if piece.counted is not None and row.capacity < piece.counted * (1.0 - 1e-6):
        return _weak(row.capacity, piece.counted, context.system)
    return ""


def _same(one: str, other: str, context: Context) -> bool:
    rows = [context.library.get("slings", name) for name in (one, other)]
    if None in rows:
        return plain(one) == plain(other)
    return rows[0] is rows[1]


def _weak(own: float, counted: float, system: System) -> str:
    return (
        f"rated {show(own, 'capacity', system)} in the register, the plan counts on {show(counted, 'capacity', system)}"
    )


# what takes a piece out of use, by the kinds on this lift


@dataclass(frozen=True, slots=True)
class OutOfUse:
    """Signs by which a kind of rigging is taken out of use, and their source."""

    kind: str
    signs: tuple[str, ...]
    source: str


@SHEET.result(LEG)
def kinds(
    leg: Row[Leg],
    known_sling: Sling | None = None,
    known_fitting: Fitting | None = None,
    shackle_rated: float | None = None,
    adjuster_rated: float | None = None,
) -> tuple[str, ...]:
    """Kinds of rigging in a leg, from the hook down."""
    found = [ADJUSTER] if adjuster_rated is not None or leg.plan.adjuster_tag else []
    found += [known_sling.kind] if known_sling is not None else []
    found += [SHACKLE] if shackle_rated is not None or leg.plan.shackle_tag else []
    return (*found, known_fitting.kind) if known_fitting is not None else tuple(found)


@SHEET.result(each={"every": Each("kinds", present=True)})
def out_of_use(lift: Lift, context: Context, every: tuple[tuple[str, ...], ...]) -> tuple[OutOfUse, ...]:
    """By kind, in the order met; a kind no table knows is left out."""
    met = [*(kind for leg in every for kind in leg), *([BEAM] if lift.spreader is not None else [])]
    found = (OutOfUse(kind, *reject_signs(context.library, kind)) for kind in dict.fromkeys(met))
    return tuple(each for each in found if each.signs)
