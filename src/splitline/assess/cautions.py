"""The cautions of the trade, by code. Each is shown where it matters and defers to site rules and licensed practice."""

from __future__ import annotations

from splitline.assess.result import Caution
from splitline.units import System

_TEXTS = {
    "suspended-load": "Suspended load: nobody under it or in its path, tag lines, exclusion zone. Site lifting rules govern.",
    "trial-lift": "Lift 20 to 50 mm first, hold, and look at level, slings and hook before going on.",
    "upending": "Upending: the load runs away when its centre passes over the support. Keep both hooks taut, nobody below.",
    "tensioner-line": "Hydraulic tensioner: nobody in line with the studs or behind the tool while it holds pressure.",
    "reaction-arm": "Hydraulic wrench: hands clear of the reaction arm and of the free swing of the tool.",
    "hydraulic-energy": "Stored hydraulic energy: check hoses and couplings, release pressure before touching anything.",
    "oil-injection": "High-pressure oil goes through skin: never feel for a leak. An injected hand is an emergency.",
    "floated-hub": "A hub floating on oil can shoot off: nobody in line with it, stop or nut in place before pressure.",
    "hot-parts": "Hot parts: gloves and face protection, no oil or solvent near, mark the hot zone.",
    "cold-parts": "Very cold parts: gloves and eye protection, ventilate (nitrogen and dry ice displace air).",
    "pinch": "Pinch point: hands clear while faces close; guide pins and bars, not fingers.",
    "hidden-bolts": "Hidden bolts: count them in and out before anything is lifted or closed.",
    "stored-gas": "Pressure test with gas stores energy: exclusion zone, low pressure first. Site pressure-test rules govern.",
    "no-live-tightening": "Never tighten or loosen under pressure.",
    "jack": "Jacking: nobody between the load and the jack beam; stop when the force jumps.",
}


def caution(code: str, detail: str = "", system: System = "SI") -> Caution:
    """The caution called ``code``, with a figure of this item where there is one."""
    text = _TEXTS[code]
    if system == "US":
        text = text.replace("20 to 50 mm", "1 to 2 in")
    return Caution(code, f"{text} {detail}".strip())
