"""The cautions of the trade, by code: brief for the screen, in full for card and paper, and the acts they belong to.

This is the one place they are declared. An assessor puts them on its item by method and tool (``bench.caution``); what stands
at an act is asked of :meth:`splitline.assess.assessment.Assessment.cautions`. Each defers to site rules and licensed practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.result import Caution, ItemResult
from splitline.units import System

STOPPED = "stopped"  # the act of a work that is held up: only what is done at once stands there
TEST = "test"
OWN = "own"  # code of what the planner wrote
BEFORE = frozenset(
    {"contact", "measure", "zero", "align", "rehearse"}
)  # mounting steps before anything is hot or loaded


@dataclass(frozen=True, slots=True)
class _Said:
    """``brief``: 22 cells at most where hands are at work, so that three stand side by side on the smallest screen.

    ``only``: the acts it stands at; empty: all but a stopped one and those in ``but``."""

    brief: str
    text: str
    only: frozenset[str] = frozenset()
    but: frozenset[str] = frozenset()


def _at_stop(brief: str, text: str) -> _Said:
    return _Said(brief, text, frozenset({STOPPED}))


_RAM = frozenset({"full", "release", "hold", "ram-off", "stop-in-place"})

_SAID = {
    "suspended-load": _Said(
        "Nobody under the load",
        "Suspended load: nobody under it or in its path, tag lines, exclusion zone. Site lifting rules govern.",
    ),
    "trial-lift": _Said(
        "Trial lift, then go",
        "Lift 20 to 50 mm first, hold, and look at level, slings and hook before going on.",
    ),
    "trial-turn": _Said(
        "Try first: slings taut",
        "Before it turns: slings taut, the tail still on its pivot, hold, and look at pivot, lugs, slings and hook.",
    ),
    "upending": _Said(
        "It runs away past its pivot",
        "Upending: the load runs away when its centre passes over the support. Keep the hook over the head, nobody below.",
    ),
    "upending-hooks": _Said(
        "Both hooks taut all the way",
        "Upending: the load runs away when its centre passes over the support. Keep both hooks taut, nobody below.",
    ),
    "tensioner-line": _Said(
        "Not in line with studs",
        "Hydraulic tensioner: nobody in line with the studs or behind the tool while it holds pressure.",
    ),
    "reaction-arm": _Said(
        "Clear of reaction arm",
        "Hydraulic wrench: hands clear of the reaction arm and of the free swing of the tool.",
    ),
    "hand-wrench": _Said(
        "Firm stand, no pipe",
        "Wrench: sound socket, firm stand, nobody in its swing, no pipe over its handle. A wrench that slips throws who pulls it.",
    ),
    "stud-line": _Said(
        "Clear of stud ends",
        "A stud that breaks flies: nobody in line with its ends while it is pulled.",
    ),
    "hydraulic-energy": _Said(
        "Pressure off to touch",
        "Stored hydraulic energy: check hoses and couplings, release pressure before touching anything.",
        but=BEFORE,
    ),
    "oil-injection": _Said(
        "Never feel for a leak",
        "High-pressure oil goes through skin: never feel for a leak. An injected hand is an emergency.",
        but=BEFORE,
    ),
    "floated-hub": _Said(
        "Clear of the part's line",
        "A part floating on oil can shoot off: nobody in line with it, stop or nut in place before pressure.",
        but=BEFORE,
    ),
    "ram-release": _Said(
        "Release the ram slowly",
        "Release the ram slowly and stand clear of its line: the part may move. Gauges at zero and lines open before anybody "
        "touches part, ram or hose.",
        only=_RAM,
    ),
    "press-line": _Said(
        "Clear of the press line",
        "Pressing: nobody in line with ram or part, guards on; a part that tilts or splits flies. Stop on a jump of force.",
        but=frozenset({"measure"}),
    ),
    "hot-parts": _Said(
        "Hot: gloves, face shield",
        "Hot parts: gloves and face protection, no oil or solvent near, mark the hot zone.",
        but=BEFORE,
    ),
    "heaters": _Said(
        "Isolate heaters first",
        "Bolt heaters: bores clean and dry, no gas about, switched off and isolated before they are handled. A hot stud is "
        "never re-heated and never struck.",
    ),
    "cold-parts": _Said(
        "Very cold: gloves, air",
        "Very cold parts: gloves and eye protection, ventilate (nitrogen and dry ice displace air).",
        but=BEFORE,
    ),
    "pinch": _Said(
        "Clear of closing faces",
        "Pinch point: hands clear while faces close; guide pins and bars, not fingers.",
    ),
    "hidden-bolts": _Said(
        "Count hidden bolts",
        "Hidden bolts: count them in and out before anything is lifted or closed.",
    ),
    "stored-gas": _Said(
        "Gas test: zone clear, low first",
        "Pressure test with gas stores energy: exclusion zone, low pressure first. Site pressure-test rules govern.",
        only=frozenset({TEST}),
    ),
    "liquid-test": _Said(
        "Liquid test: vent, zone clear",
        "Pressure test with liquid: vent all gas, exclusion zone, nobody in front of covers, plugs and hoses. Site "
        "pressure-test rules govern.",
        only=frozenset({TEST}),
    ),
    "no-live-tightening": _Said("Never under pressure", "Never tighten or loosen under pressure."),
    "jack": _Said(
        "Clear of the jack beam",
        "Jacking: nobody between the load and the jack beam; stop when the force jumps: a seal has rolled or the bundle is cocked.",
    ),
    "rotor-lifted": _Said(
        "Hands out of bearings",
        "Rotor lifted in its bearing: lift only where the drawing says and no further than the clearance, indicator on, hands "
        "out of bearing, seals and coupling.",
    ),
    "rotor-pushed": _Said(
        "Clear of collar and pads",
        "Rotor pushed to its stops: everybody clear of collar, pads and coupling, one person gives the word, no hammer.",
    ),
    "release-tool": _at_stop(
        "Release tool pressure before anybody touches it",
        "Stopped: release tool pressure to zero before anybody touches tool, nut or hose.",
    ),
    "heaters-off": _at_stop(
        "Heaters off and isolated; leave hot studs alone",
        "Stopped: heaters off and isolated; hot studs are left alone until they are cold.",
    ),
    "tool-off": _at_stop("Take the tool off. Nobody pulls on", "Stopped: take the tool off the nut. Nobody pulls on."),
    "jack-off": _at_stop(
        "Stop the pump; jack pressure off before anybody goes near",
        "Stopped: stop the pump and let the jack pressure off before anybody goes near.",
    ),
    "set-down": _at_stop(
        "Hold or set down. Nobody under it, nobody reaches in",
        "Stopped: hold or set down. Nobody under the load, nobody reaches in.",
    ),
    "hold-hub": _at_stop(
        "Hold as it stands. Nobody in line with it or an oil line",
        "Stopped: hold as it stands. Nobody in line with the part or an oil line.",
    ),
    "hot-hub": _at_stop(
        "Hot part: hands off; draw it off or let it cool",
        "Stopped: a part that sticks hot is drawn off at once by those told to, or left to cool. Hands off, no hammer.",
    ),
    "press-off": _at_stop(
        "Press pressure off before anybody reaches in",
        "Stopped: let the press pressure off before anybody reaches in.",
    ),
    "rotor-down": _at_stop(
        "Let the rotor down; hands stay out", "Stopped: let the rotor down or back; hands stay out until it rests."
    ),
}


def caution(code: str, detail: str = "", system: System = "SI") -> Caution:
    """The caution called ``code``, with a figure of this item where there is one."""
    said = _SAID[code]
    text = said.text.replace("20 to 50 mm", trial_lift(system))
    return Caution(code, f"{text} {detail}".strip(), said.brief, said.only, said.but)


def own_caution(text: str) -> Caution:
    """What the planner wrote at a step: it stands in full wherever that step is told."""
    return Caution(OWN, text, text)


def of_step(
    step: ItemResult | None, item: ItemResult | None, act: str | None = None, test: bool = False
) -> tuple[Caution, ...]:
    """Cautions of a step and of the item it works on, each once, the planner's own first; ``act`` None: of all its acts."""
    found: dict[str, Caution] = {}
    for result in (item, step):
        for each in result.cautions if result is not None else ():
            found.setdefault(each.code, each)
    ordered = sorted(found.values(), key=lambda each: each.code != OWN)
    acts = (act, TEST) if test and act != STOPPED else (act,)
    return tuple(each for each in ordered if act is None or any(each.at(one) for one in acts if one is not None))


def trial_lift(system: System) -> str:
    """How high a trial lift goes, from the one caution that says it."""
    return "1 to 2 in" if system == "US" else "20 to 50 mm"
