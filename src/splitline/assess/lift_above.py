"""Above the legs: rated load of spreader or lifting beam, what presses and bends it, its upper slings at their flattest."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.lift_rigging import flattest_check
from splitline.assess.lift_types import Hung, Load
from splitline.plan.model.lift import Lift, Spreader

RATED = "marked on the beam; ASME BTH-1 and B30.20: it holds for the points and sling angles marked with it"
WORST = "with margin and dynamic factor of load, beam and rigging; greatest over lengths and centre"
NEXT_TO_NOTHING = 0.01  # share of the load below: a lifting beam, which is bent and not pressed
BEAM, UPPER = "beam", "upper sling"


def check_above(bench: Bench, lift: Lift, load: Load, hung: Hung) -> None:
    """Beam and upper slings; what has no rating is missing, whatever else is known."""
    beam, state = lift.spreader, hung.design or hung.nominal
    if beam is None:
        return
    bench.put("upper_angle", list(hung.nominal.upper_angles))
    bench.put("upper_tension", list(state.upper_tensions))
    bench.put("spreader_compression", abs(state.compression))
    bench.put("spreader_bending", state.bending)
    bench.put("spreader_tilt", hung.nominal.beam_tilt)
    above = hung.above
    if above is None or load.design is None:
        return
    bench.put("upper_angle_worst", list(above.angles))
    bench.put("upper_tension_worst", list(above.tensions))
    bench.put("spreader_compression_worst", abs(above.compression))
    bench.put("spreader_bending_worst", above.bending)
    with bench.about(part=BEAM):
        _rated(bench, beam, load.design, above.bending)
        _pressed(bench, beam, above.compression, load.design)
        if beam.bending_capacity is not None:
            basis = f"rated bending moment given in the plan; {WORST}"
            bench.at_most(
                "spreader_bending", "Spreader: bending", above.bending, beam.bending_capacity, "torque", basis
            )
    with bench.about(part=UPPER):
        _upper(bench, lift, beam, max(above.tensions), min(above.angles))


def _rated(bench: Bench, beam: Spreader, below: float, bending: float) -> None:
    title = "Spreader: rated load"
    if beam.capacity is None:
        note = f"its rated load is marked on it; here it is bent by up to {bench.show(bending, 'torque')}"
        bench.missing("spreader_rated", title, ("spreader.capacity",), RATED, note, kind="capacity")
        return
    note = f"bent by up to {bench.show(bending, 'torque')}"
    bench.at_most("spreader_rated", title, below, beam.capacity, "capacity", f"design load below it; {RATED}", note)


def _pressed(bench: Bench, beam: Spreader, axial: float, below: float) -> None:
    title = "Spreader: compression" if axial >= 0.0 else "Spreader: pull along the beam"
    if beam.compression_capacity is None and abs(axial) <= NEXT_TO_NOTHING * below:
        note = f"no more than {bench.show(abs(axial), 'force')} along it: it bends, its rated load governs"
        bench.passes("spreader_compression", title, WORST, note)
        return
    if beam.compression_capacity is None:
        needs = ("spreader.compression_capacity",)
        bench.missing("spreader_compression", title, needs, "marking on the beam", kind="capacity")
        return
    basis = f"rated compression given in the plan; {WORST}"
    bench.at_most("spreader_compression", title, abs(axial), beam.compression_capacity, "capacity", basis)


def _upper(bench: Bench, lift: Lift, beam: Spreader, greatest: float, flattest: float) -> None:
    title = "Spreader: upper sling"
    if beam.upper_capacity is None:
        bench.missing("spreader_upper", title, ("spreader.upper_capacity",), "sling tag", kind="capacity")
    else:
        basis = f"rated capacity given in the plan; {WORST}"
        bench.at_most("spreader_upper", title, greatest, beam.upper_capacity, "capacity", basis)
    flattest_check(
        bench, lift, "upper_angle", "Upper slings: flattest angle from the horizontal", "upper sling", flattest
    )
