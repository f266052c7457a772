"""The maker's figures, what readings are accepted by, and the cautions of a joint."""

from __future__ import annotations

from splitline.assess.accepted import given_for
from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_preload import BY_TORQUE
from splitline.assess.joint_types import Hardware
from splitline.plan.model.joint import Joint, Target
from splitline.plan.model.tightening import SizeAcceptance

MAKER_APART = 0.10
# What is done at once when the work is stopped, by method.
_AT_STOP = {
    "hydraulic wrench": "release-tool",
    "hydraulic tensioner": "release-tool",
    "heat": "heaters-off",
}
DERIVED = "target and scatter of the method"


def check_maker(bench: Bench, hw: Hardware, target: Target | None, torque: float | None, stretch: float | None) -> None:
    """Own torque and stretch against the maker's; more than 10 % apart deserves a second look."""
    if target is None:
        return
    source = target.source or "maker's figure; no drawing is named"
    for key, what, kind, maker, own, needs in (
        ("maker_torque", "torque", "torque", target.maker_torque, torque, "friction.lubricant"),
        ("maker_stretch", "stretch", "length", target.maker_stretch, stretch, "bolting.clamp_length"),
    ):
        if maker is None:
            continue
        title = f"own {what} against the maker's{hw.of}"
        if own is None:
            bench.missing(
                key, title, (needs,), source, f"own {what} cannot be computed: see the checks above", kind=kind
            )
            continue
        apart = own / maker - 1.0
        said = f"own {bench.show(own, kind)}, maker {bench.show(maker, kind)}: {apart:+.0%}"
        if abs(apart) > MAKER_APART + 1e-9:
            bench.near(
                key, title, source, f"{said}, more than 10 % apart: ask which friction and stress the maker took"
            )
        else:
            bench.passes(key, title, source, said)


def put_acceptance(
    bench: Bench, lines: Lines, hw: Hardware, joint: Joint, stretch: float | None, scatter: float | None
) -> None:
    """Limits of the stretch readings of one size: given, by a tolerance, or from target and scatter.

    The target must lie between given ones. Under a wrench the scatter is no acceptance: it takes nearly every reading.
    """
    accept = given_for(joint, hw.bolts if hw.of else ())
    method = joint.tightening.method if joint.tightening is not None else ""
    by_scatter = None if method in BY_TORQUE else scatter
    low = _end(bench, lines, hw, "stretch_low", accept, stretch, by_scatter)
    high = _end(bench, lines, hw, "stretch_high", accept, stretch, by_scatter)
    if stretch is None:
        return
    asked = joint.acceptance is not None and bool(joint.acceptance.measured_bolts)
    if low is None and high is None and asked:
        note = "no acceptance given: say which stretch of the measured bolts is taken (stretch_share, or limits)"
        why = "the scatter of a wrench would accept nearly every reading"
        bench.on_site(
            "stretch_low", "stretch readings" + hw.of, ("acceptance.stretch_share",), why, note, kind="length"
        )
    angle = lines.get("turn_angle")
    if angle is not None and scatter is not None:
        for key, share in (("turn_low", 1.0 - scatter), ("turn_high", 1.0 + scatter)):
            puts = {"θ": (angle, "angle"), "share": (share, "share")}
            lines.put(key, share * angle, {**puts}, formula="share·θ", source=DERIVED)
    if accept is None:
        return
    title = "stretch at target within what is accepted" + hw.of
    if accept.stretch_low is not None and low is not None:
        bench.at_least("stretch_low", title + ", low end", low, stretch, "length", "acceptance of the plan")
    if accept.stretch_high is not None and high is not None:
        bench.at_most("stretch_high", title + ", high end", stretch, high, "length", "acceptance of the plan")


def _end(
    bench: Bench,
    lines: Lines,
    hw: Hardware,
    key: str,
    accept: SizeAcceptance | None,
    stretch: float | None,
    scatter: float | None,
) -> float | None:
    """One end of what is accepted, put on the bench; None where neither the plan nor the scatter gives one."""
    given: float | None = getattr(accept, key) if accept is not None else None
    if given is not None:
        lines.put(key, given, {}, formula="as given", source="acceptance of the plan")
        return given
    if stretch is None:
        return None
    side = -1.0 if key == "stretch_low" else 1.0
    puts = {"ΔL": (stretch, "length")}
    if accept is not None and accept.stretch_tolerance is not None:
        value = max(stretch + side * accept.stretch_tolerance, 0.0)
        into = {**puts, "±": (accept.stretch_tolerance, "length")}
        lines.put(key, value, {**into}, formula="ΔL ± tolerance", source="acceptance.stretch_tolerance of the plan")
        return value
    own = accept.stretch_share if accept is not None else None
    within = own if own is not None else scatter
    if within is None:
        return None
    share = 1.0 + side * within
    source = DERIVED if own is None else "acceptance.stretch_share of the plan"
    lines.put(key, share * stretch, {**puts, "share": (share, "share")}, formula="share·ΔL", source=source)
    if own is None:
        bench.default(f"acceptance.{key}{hw.of}", bench.show(share * stretch, "length"), DERIVED)
    return share * stretch


def put_cautions(bench: Bench, joint: Joint) -> None:
    """Ways to be hurt while this joint is closed."""
    method = joint.tightening.method if joint.tightening is not None else None
    if joint.hidden:
        bench.caution("hidden-bolts")
    bench.caution("pinch")
    bench.caution("no-live-tightening")
    bench.caution(_AT_STOP.get(method or "", "tool-off"))
    if method == "hydraulic wrench":
        bench.caution("reaction-arm")
    elif method == "hydraulic tensioner":
        energy = bench.get("stored_energy")
        bench.caution("tensioner-line", f"One stud stores {bench.show(energy, 'energy')} at target." if energy else "")
    elif method in ("torque wrench", "stretch", "turn"):
        bench.caution("hand-wrench")
    if method in ("hydraulic wrench", "hydraulic tensioner"):
        bench.caution("hydraulic-energy")
        bench.caution("oil-injection")
    if method != "hydraulic tensioner":
        bench.caution("stud-line")
    if method == "heat":
        rise = bench.get("heat_rise")
        bench.caution(
            "hot-parts", f"Studs {bench.show(rise, 'temperature_difference')} hotter than the casing." if rise else ""
        )
        bench.caution("heaters")
        bench.note(
            "Heat once, turn by the angle, let cool to ambient, then measure the stretch. Never re-heat a hot stud."
        )
