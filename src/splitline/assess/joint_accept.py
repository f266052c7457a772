"""The maker's figures, what readings are accepted by, and the cautions of a joint."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from splitline.assess.accepted import given_for
from splitline.assess.context import Context
from splitline.assess.joint_preload import BY_TORQUE
from splitline.assess.joint_scatter import Spread
from splitline.assess.joint_sheet import SHEET, SIZE, Sized, method_of
from splitline.assess.sheet import Against, Assumed, Each, Rule
from splitline.plan.model.joint import Joint
from splitline.plan.model.tightening import SizeAcceptance
from splitline.units import show

MAKER_APART = 0.10
DERIVED = "target and scatter of the method"

# own torque and stretch against the maker's; more than 10 % apart deserves a second look


@SHEET.check("maker_torque", "own torque against the maker's{size.of}", SIZE, kind="torque")
def makers_torque(size: Sized, context: Context, torque: float | None = None) -> Rule | None:
    maker = size.target.maker_torque if size.target is not None else None
    return _apart("torque", "torque", maker, torque, size, "friction.lubricant", context)


@SHEET.check("maker_stretch", "own stretch against the maker's{size.of}", SIZE, kind="length")
def makers_stretch(size: Sized, context: Context, stretch: float | None = None) -> Rule | None:
    maker = size.target.maker_stretch if size.target is not None else None
    return _apart("stretch", "length", maker, stretch, size, "bolting.clamp_length", context)


def _apart(
    what: str, kind: str, maker: float | None, own: float | None, size: Sized, field: str, context: Context
) -> Rule | None:
    if maker is None or size.target is None:
        return None
    source = size.target.source or "maker's figure; no drawing is named"
    if own is None:
        return Rule("missing", f"own {what} cannot be computed: see the checks above", (field,), source)
    share = own / maker - 1.0
    shown, given = (show(value, kind, context.system) for value in (own, maker))
    text = f"own {shown}, maker {given}: {share:+.0%}"
    if abs(share) <= MAKER_APART + 1e-9:
        return Rule("ok", text, basis=source)
    more = "more than 10 % apart: ask which friction and stress the maker took"
    return Rule("near", f"{text}, {more}", basis=source)


# limits of the stretch readings of one size: given, by a tolerance, or from target and scatter


@dataclass(frozen=True, slots=True)
class Limit:
    """One end of what is accepted, m, and what it comes from."""

    value: float
    formula: str
    source: str
    target: float | None = None
    tolerance: float | None = None
    share: float | None = None


@SHEET.result(SIZE)
def accept(size: Sized, joint: Joint) -> SizeAcceptance | None:
    """What the plan says for these bolts."""
    return given_for(joint, size.bolts if size.number else ())


def _limit(
    end: Literal["low", "high"], size: Sized, joint: Joint, accept: SizeAcceptance | None, stretch: float | None,
    spread: Spread, context: Context,
) -> Limit | Assumed | None:  # fmt: skip
    """Under a wrench the scatter is no acceptance: it takes nearly every reading."""
    given: float | None = getattr(accept, f"stretch_{end}") if accept is not None else None
    if given is not None:
        return Limit(given, "as given", "acceptance of the plan")
    if stretch is None:
        return None
    side = -1.0 if end == "low" else 1.0
    if accept is not None and accept.stretch_tolerance is not None:
        value = max(stretch + side * accept.stretch_tolerance, 0.0)
        source = "acceptance.stretch_tolerance of the plan"
        return Limit(value, "ΔL ± tolerance", source, stretch, tolerance=accept.stretch_tolerance)
    own = accept.stretch_share if accept is not None else None
    if own is not None:
        share = 1.0 + side * own
        return Limit(share * stretch, "share·ΔL", "acceptance.stretch_share of the plan", stretch, share=share)
    if method_of(joint) in BY_TORQUE:
        return None
    share = 1.0 + side * spread.scatter
    limit = Limit(share * stretch, "share·ΔL", DERIVED, stretch, share=share)
    field, text = f"acceptance.stretch_{end}{size.of}", show(limit.value, "length", context.system)
    return Assumed(limit, field, DERIVED, text=text)


@SHEET.result(SIZE)
def limit_low(
    size: Sized, joint: Joint, spread: Spread, context: Context, accept: SizeAcceptance | None = None,
    stretch: float | None = None,
) -> Limit | Assumed | None:  # fmt: skip
    return _limit("low", size, joint, accept, stretch, spread, context)


@SHEET.result(SIZE)
def limit_high(
    size: Sized, joint: Joint, spread: Spread, context: Context, accept: SizeAcceptance | None = None,
    stretch: float | None = None,
) -> Limit | Assumed | None:  # fmt: skip
    return _limit("high", size, joint, accept, stretch, spread, context)


def _accepted(end: str, title: str, symbol: str) -> None:
    limit = f"limit_{end}"
    SHEET.tell(f"stretch_{end}", f"{limit}.value", "length", title, symbol, f"{{{limit}.formula}}", f"{{{limit}.source}}",
               puts={"ΔL": (f"{limit}.target", "length"), "±": (f"{limit}.tolerance", "length"),
                     "share": (f"{limit}.share", "share")})  # fmt: skip


_accepted("low", "Least stretch accepted", "ΔL_low")
_accepted("high", "Greatest stretch accepted", "ΔL_high")


@SHEET.check("stretch_low", "stretch readings{size.of}", SIZE, kind="length", after=("stretch",),
             basis="the scatter of a wrench would accept nearly every reading")  # fmt: skip
def something_accepts(joint: Joint, limit_low: Limit | None = None, limit_high: Limit | None = None) -> Rule | None:
    asked = joint.acceptance is not None and bool(joint.acceptance.measured_bolts)
    if limit_low is not None or limit_high is not None or not asked:
        return None
    note = "no acceptance given: say which stretch of the measured bolts is taken (stretch_share, or limits)"
    return Rule("on-site", note, ("acceptance.stretch_share",))


WITHIN = "stretch at target within what is accepted{size.of}"


@SHEET.check("stretch_low", WITHIN + ", low end", SIZE, sense="at least", kind="length", basis="acceptance of the plan",
             quiet=True)  # fmt: skip
def over_the_least(accept: SizeAcceptance, stretch: float, limit_low: Limit) -> Against | None:
    return Against(limit_low.value, stretch) if accept.stretch_low is not None else None


@SHEET.check("stretch_high", WITHIN + ", high end", SIZE, kind="length", basis="acceptance of the plan", quiet=True)
def under_the_greatest(accept: SizeAcceptance, stretch: float, limit_high: Limit) -> Against | None:
    return Against(stretch, limit_high.value) if accept.stretch_high is not None else None


@dataclass(frozen=True, slots=True)
class Shares:
    """Of the turn from snug that fits the torque."""

    low: float
    high: float


@SHEET.result(after=("spread",))
def turn_shares(spread: Spread) -> Shares:
    return Shares(1.0 - spread.scatter, 1.0 + spread.scatter)


@SHEET.result(SIZE, kind="angle", title="Least turn from snug that fits the torque", symbol="θ_low", formula="share·θ",
              source=DERIVED, after=("stretch",),
              puts={"θ": ("turn_angle", "angle"), "share": ("turn_shares.low", "share")})  # fmt: skip
def turn_low(turn_angle: float, turn_shares: Shares) -> float:
    return turn_shares.low * turn_angle


@SHEET.result(SIZE, kind="angle", title="Greatest turn from snug that fits the torque", symbol="θ_high",
              formula="share·θ", source=DERIVED, after=("stretch",),
              puts={"θ": ("turn_angle", "angle"), "share": ("turn_shares.high", "share")})  # fmt: skip
def turn_high(turn_angle: float, turn_shares: Shares) -> float:
    return turn_shares.high * turn_angle


# ways to be hurt while this joint is closed


def _hidden(joint: Joint) -> bool:
    return bool(joint.hidden)


def _hydraulic(joint: Joint) -> bool:
    return method_of(joint) in ("hydraulic wrench", "hydraulic tensioner")


def _heated(joint: Joint) -> bool:
    return method_of(joint) == "heat"


def _other_tool(joint: Joint) -> bool:
    return not _hydraulic(joint) and not _heated(joint)


def _wrenched(joint: Joint) -> bool:
    return method_of(joint) == "hydraulic wrench"


def _tensioned(joint: Joint) -> bool:
    return method_of(joint) == "hydraulic tensioner"


def _by_hand(joint: Joint) -> bool:
    return method_of(joint) in ("torque wrench", "stretch", "turn")


def _not_tensioned(joint: Joint) -> bool:
    return not _tensioned(joint)


SHEET.stands("hidden-bolts", when=_hidden)
SHEET.stands("pinch", "no-live-tightening")
SHEET.stands("release-tool", when=_hydraulic)
SHEET.stands("heaters-off", when=_heated)
SHEET.stands("tool-off", when=_other_tool)
SHEET.stands("reaction-arm", when=_wrenched)


@SHEET.result(each={"each": Each("stored_energy", present=True)})
def main_energy(each: tuple[float, ...]) -> float | None:
    """Of the main size, J."""
    return next(iter(each), None)


@SHEET.caution("tensioner-line", when=_tensioned)
def stored(main_energy: float, context: Context) -> str:
    return f"One stud stores {show(main_energy, 'energy', context.system)} at target."


SHEET.stands("hand-wrench", when=_by_hand)
SHEET.stands("hydraulic-energy", "oil-injection", when=_hydraulic)
SHEET.stands("stud-line", when=_not_tensioned)


@SHEET.result(each={"each": Each("heat_rise", present=True)})
def main_rise(each: tuple[float, ...]) -> float | None:
    """Of the main size, K."""
    return next(iter(each), None)


@SHEET.caution("hot-parts", when=_heated)
def how_hot(main_rise: float, context: Context) -> str:
    return f"Studs {show(main_rise, 'temperature_difference', context.system)} hotter than the casing."


SHEET.stands("heaters", when=_heated)


@SHEET.note(when=_heated)
def heat_once() -> str:
    return "Heat once, turn by the angle, let cool to ambient, then measure the stretch. Never re-heat a hot stud."
