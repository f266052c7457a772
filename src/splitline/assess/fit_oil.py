"""How far the oil pressure of a fit has to go to part it, and may go: the least of drawing, pump and yield."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.fit_inputs import Given
from splitline.fitting.oil_study import OUTSIDE_RATIO, hub_under_oil, opening_ratio, shaft_under_oil, studied

TITLE = "Oil pressure at removal against the least of drawing, pump and yield"
BASIS = "oil ratio times greatest contact pressure; von Mises of hub and shaft under the oil, finite elements, not above yield"
_ONE = 1e6  # Pa: stress at rest is in proportion to the pressure


def oil_ratio(given: Given, greatest: float, bench: Bench) -> float:
    """Put and give the oil pressure over the greatest contact pressure (Pa): the plan's, else the study's.

    Beyond the shapes studied it is ``missing``; what is printed then is on the safe side.
    """
    fit, pair = given.fit, given.pair
    ratio = fit.oil_ratio if fit.oil_ratio is not None else opening_ratio(pair)
    bench.put("oil_ratio", ratio)
    if fit.oil_ratio is not None:
        return ratio
    said = bench.show(ratio * greatest, "pressure")
    basis = (
        "axisymmetric finite elements: D/d 1.4 to 3, L/d to 2, shaft bore to 0.6 d, seals to 7.5 % in from the ends; ends free, "
        "bores plain: a flange, a step, a keyway or oil grooves were not studied"
    )
    if not given.has_length:
        return OUTSIDE_RATIO  # the length is said missing
    if not studied(pair):
        note = f"no such shape was studied: {said} is counted with; take the removal pressure from the maker"
        bench.missing("oil_ratio", "Range of the oil-pressure ratio", ("oil_ratio",), basis, note)
    bench.default("oil_ratio", f"{ratio:.2f}", basis)
    return ratio


def oil_limit(given: Given, needed: float, bench: Bench) -> None:
    """Put the pressure at which a part yields and the least limit; hold ``needed`` (Pa), for removal, against it.

    Missing where the drawing's limit or a yield strength is: a limit that leaves one out is none.
    """
    fit, pair = given.fit, given.pair
    strengths = {"hub": given.hub.yield_strength, "shaft": given.shaft.yield_strength}
    stress = {"hub": hub_under_oil(pair, _ONE) / _ONE, "shaft": shaft_under_oil(pair, _ONE) / _ONE}
    yields = [strength / stress[part] for part, strength in strengths.items() if strength is not None]
    if len(yields) == len(strengths):
        bench.put("oil_yield_pressure", min(yields), {"d": (pair.diameter, "length"), "D": (pair.hub_outer, "length")})
    known = [limit for limit in (fit.max_expansion_pressure, fit.max_pump_pressure, *yields) if limit is not None]
    if known:
        bench.put("oil_pressure_limit", min(known))
    needs = [f"{part}_yield" for part, strength in strengths.items() if strength is None]
    if fit.max_expansion_pressure is None:
        needs.append("max_expansion_pressure")
    if needs:
        bench.missing("removal_pressure", TITLE, needs, BASIS, kind="pressure")
    else:
        bench.at_most("removal_pressure", TITLE, needed, min(known), "pressure", BASIS)
