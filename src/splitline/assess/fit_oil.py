"""How far the oil pressure of a fit may go, on and off: the least of drawing, pump and yield."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.fit_inputs import Given
from splitline.fitting.interference import worst_hub, worst_shaft

TITLE = "Oil pressure at removal against the least of drawing, pump and yield"
BASIS = "1.6 times the greatest contact pressure; von Mises of hub and shaft under the oil, Lamé, not above yield"
_ONE = 1e6  # Pa: stress at rest is in proportion to the pressure


def oil_limit(given: Given, needed: float, bench: Bench) -> None:
    """Put the pressure at which a part yields and the least limit; hold ``needed`` (Pa), for removal, against it.

    Missing where the drawing's limit or a yield strength is: a limit that leaves one out is none.
    """
    fit, pair = given.fit, given.pair
    strengths = {"hub": given.hub.yield_strength, "shaft": given.shaft.yield_strength}
    stress = {"hub": worst_hub(pair, _ONE) / _ONE, "shaft": worst_shaft(pair, _ONE) / _ONE}
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
