"""Turning a load up: where it runs away, what supports and fittings carry with every factor, how low it hangs."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from splitline.lifting.upending import upending
from tests.assess.lifts import assessed, check, legs, lift

G = 9.80665
LUG = {"capacity": "20 t", "elongation": 0.01, "fitting": "lug", "fitting_capacity": "20 t", "pull_axis": [1, 0, 0],
       "reduction": [["0 deg", 1.0], ["90 deg", 0.5]], "reduction_source": "drawing"}  # fmt: skip
CRANE = {"capacity": "30 t", "rigging": "100 kg", "block": "0 kg", "hook_height": "12 m", "clear_over": "1 m"}


def turned(centre: tuple[float, float, float], tail: dict[str, Any] | None = None, **fields: Any) -> dict[str, Any]:
    """A 5 t load on its side, the head 4 m along; its tail at the origin."""
    rope = legs([(4.0, 0.5, 0.0), (4.0, -0.5, 0.0)], [math.hypot(2.0, 0.5)] * 2, **LUG)
    held = {"kind": "hook", "pick": ["0 m", "0 m", "0 m"], "capacity": "10 t"} | (tail or {})
    given_lift = lift(5000.0, centre, rope, tail=held, crane=CRANE, length_tolerance=0.0)
    return given_lift | {"mass_margin": 0.1, "dynamic": 1.3} | fields


@settings(max_examples=200, deadline=None)
@given(
    s=st.floats(-1.0, 4.0), z=st.floats(-2.0, 2.0), head=st.floats(0.5, 6.0), head_z=st.floats(-0.4, 0.4),
    shift=st.floats(0.0, 0.2),
)  # fmt: skip
def test_runaway_is_the_centre_over_the_tail(s: float, z: float, head: float, head_z: float, shift: float) -> None:
    """The centre turned by hand in steps of 0.01 degree: first angle at which it is no longer on the head's side."""
    found = upending((head, 0.0, head_z * head), (0.0, 0.0, 0.0), (s, 0.0, z), 1000.0, shift)

    def first(doubt: float) -> float | None:
        turn = (math.radians(step / 100) for step in range(9001))
        return next((a for a in turn if s * math.cos(a) - z * math.sin(a) <= doubt), None)

    assume(abs(z) > 1e-3 and abs(z + shift) > 1e-3)
    for said, by_hand in ((found.runaway, first(0.0)), (found.runaway_early, first(shift))):
        assert (said is None) == (by_hand is None)
        if said is not None and by_hand is not None:
            assert said == pytest.approx(by_hand, abs=2e-4)


def test_the_head_crossing_the_tail_is_no_runaway() -> None:
    # the head, 1 m above the tail, passes over it at 76 degrees; the centre, below the tail's height, never does
    assert upending((4.0, 0, 1.0), (0, 0, 0), (1.0, 0, -0.2), 1000.0).runaway is None
    late = upending((4.0, 0, 1.5), (0, 0, 0), (3.9, 0, 0.3), 1000.0)
    assert late.runaway == pytest.approx(math.atan(3.9 / 0.3), abs=1e-5)


def test_a_centre_beyond_the_tail_from_the_start_is_told() -> None:
    result = assessed(turned((-0.3, 0.0, 0.2)))
    found = check(result, "upend_runaway")
    assert found.verdict == "fails"
    assert "already" in found.note
    assert result.results["upend_runaway"] == 0.0
    assert max(result.results["upend_head"][:5]) == 0.0


def test_the_doubt_of_the_centre_counts() -> None:
    sure = check(assessed(turned((2.0, 0.0, -0.1))), "upend_runaway")
    doubtful = assessed(turned((2.0, 0.0, -0.1), centre_shift="200 mm"))
    assert sure.verdict == "ok"
    assert check(doubtful, "upend_runaway").verdict == "near"
    assert "upend_runaway" not in doubtful.results
    assert 0.0 < doubtful.results["upend_runaway_early"] < math.pi / 2


def test_tail_and_fittings_carry_margin_and_dynamic_factor() -> None:
    """By hand: lying, the tail of a load with its centre a third along carries 2/3 W, times 1.1 times 1.3."""
    k, weight = 1.1 * 1.3, 5000 * G
    result = assessed(turned((4.0 / 3.0, 0.0, -0.2), {"crane_capacity": "10 t"}))
    for key in ("upend_tail", "upend_crane"):
        assert check(result, key).demand == pytest.approx(weight * 2 / 3 * k, rel=1e-6)
    assert result.results["upend_tail_design"][0] == pytest.approx(weight * 2 / 3 * k, rel=1e-6)
    assert result.results["upend_head_design"][0] == pytest.approx(weight / 3 * k, rel=1e-6)
    fitting = [c for c in result.checks if c.key == "upend_fitting"]
    assert len(fitting) == 2
    still = assessed(turned((4.0 / 3.0, 0.0, -0.2), dynamic=1.0))
    for moving, slow in zip(fitting, (c for c in still.checks if c.key == "upend_fitting"), strict=True):
        assert moving.demand == pytest.approx(1.3 * (slow.demand or 0.0), rel=1e-3)  # elastic legs
    floor = assessed(turned((4.0 / 3.0, 0.0, -0.2), {"kind": "floor"}))
    assert check(floor, "upend_tail").demand == pytest.approx(weight * 2 / 3 * k, rel=1e-6)


def test_headroom_takes_what_hangs_below_and_every_angle() -> None:
    """The head 4 m from the tail: standing, hook height - 2 m of rigging - 4 m - what hangs below - 1 m passed over."""
    plain = assessed(turned((2.0, 0.0, 0.0), {"below": "0 mm"}))
    above = plain.results["hook"][0] - 4.0
    assert plain.results["headroom"] == pytest.approx(12 - above - 4 - 1, rel=1e-6)
    for kind in ("hook", "floor"):  # what nobody measured is no 0 mm: the headroom would be too good
        unmeasured = assessed(turned((2.0, 0.0, 0.0), {"kind": kind}))
        found = check(unmeasured, "headroom")
        assert (found.verdict, found.needs) == ("missing", ("tail.below",))
        assert "measure what hangs below" in found.note
        assert "headroom" not in unmeasured.results
    below = assessed(turned((2.0, 0.0, 0.0), {"below": "600 mm"}))
    assert below.results["headroom"] == pytest.approx(plain.results["headroom"] - 0.6)
    # lying on an underside 3 m down: on its way the far corner hangs lower than when it stands, sqrt(4² + 3²) = 5 m
    deep = assessed(turned((2.0, 0.0, 0.0), {"below": "0 mm"}, underside="-3 m"))
    assert deep.results["headroom"] == pytest.approx(12 - above - 5 - 1, abs=0.01)


def test_a_tail_slack_from_the_start_is_told() -> None:
    result = assessed(turned((4.5, 0.0, -0.2)))
    assert result.results["upend_slack"] == 0.0
    assert any("tail goes slack at 0" in note for note in result.notes)


def test_the_turn_is_judged_even_where_the_legs_cannot_hang() -> None:
    given_lift = turned((-0.3, 0.0, 0.2))
    for leg in given_lift["leg"]:
        del leg["length"]
    result = assessed(given_lift | {"hook": {"above_picks": "2 m"}})
    assert check(result, "leg_tension").verdict == "fails"
    assert check(result, "upend_runaway").verdict == "fails"
    assert check(result, "upend_tail").demand == pytest.approx(5000 * G * 1.1 * 1.3)


def test_the_caution_stands_and_the_centre_is_missing_before_anything_can_be_computed() -> None:
    """A centre nobody gave is missing, not left to the job; how a turned load hurts is said whatever is missing."""
    plan = turned((2.0, 0.0, 0.0))
    unplaced = assessed(plan | {"part": [{"name": "load", "mass": "5 t"}]})
    assert {c.verdict for c in unplaced.checks if c.key == "upend_tail"} == {"missing"}
    unweighed = assessed(plan | {"part": [{"name": "load", "at": ["2 m", "0 m", "0 m"]}]})
    assert "upending-hooks" in {caution.code for caution in unweighed.cautions}


def test_a_fitting_no_table_covers_at_an_angle_of_turn_is_missing_on_its_leg() -> None:
    bare = {name: value for name, value in LUG.items() if not name.startswith("reduction")}
    rope = legs([(4.0, 0.5, 0.0), (4.0, -0.5, 0.0)], [math.hypot(2.0, 0.5)] * 2, **bare)
    found = [c for c in assessed(turned((2.0, 0.0, 0.0), leg=rope)).checks if c.key == "fitting"]
    assert {(c.leg, c.part, c.verdict) for c in found} == {(leg, "fitting at the load", "missing") for leg in (1, 2)}
