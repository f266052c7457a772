"""Lifts that came out ok and should not have: angled pulls, baskets, chokers, charts, shares, tags, five and more legs."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from splitline.assess.result import ItemResult
from splitline.errors import InputError
from splitline.lifting.hang import hang
from splitline.lifting.levels import level_lengths
from splitline.lifting.rigging import choke_factor, sling_capacity
from splitline.lifting.tolerance import worst_case
from tests.assess.lifts import LUGS, assessed, check, legs, lift

DEG = math.pi / 180


@pytest.mark.parametrize("count", [5, 6, 8])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_worst_tension_of_many_legs_is_no_less_than_a_dense_search_finds(count: int, seed: int) -> None:
    """Against 6,000 random poses of my own, each leg's length drawn from its ends, its middle and between."""
    random = np.random.default_rng(seed)
    turn = np.sort(random.uniform(0, 2 * np.pi, count))
    radius = random.uniform(0.8, 1.2, count)
    picks = [(float(r * np.cos(t)), float(r * np.sin(t)), 0.0) for r, t in zip(radius, turn, strict=True)]
    if max(np.diff([*turn, turn[0] + 2 * np.pi])) > 0.9 * np.pi:
        pytest.skip("centre outside the picks")
    lengths = [math.hypot(2.0, r) for r in radius]
    rigid, centre, weight, tolerance = [8e6] * count, (0.05, 0.0, -0.3), 60e3, 0.005
    found = worst_case(picks, lengths, rigid, centre, weight, tolerance, 0.0)
    most = np.zeros(count)
    for _ in range(600):
        signs = random.choice([-1.0, -0.5, 0.0, 0.5, 1.0], count)
        most = np.maximum(most, hang(picks, lengths * (1 + tolerance * signs), rigid, centre, weight).tensions)
    assert (np.array(found.tensions) >= 0.99 * most).all()


def test_two_open_legs_whose_centre_is_a_nanometre_off_their_plane_hang() -> None:
    picks = [(-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)]
    for off in (0.0, 1e-9, 1e-4):
        level = level_lengths(picks, [None, None], [1e7, 1e7], (0.0, off, -0.4), 20e3, (0.0, off, 2.0))
        assert level.lengths == pytest.approx((math.sqrt(5.0),) * 2, rel=2e-3)
    with pytest.raises(InputError, match="centre of gravity"):
        level_lengths(picks, [None, None], [1e7, 1e7], (0.0, 0.2, -0.4), 20e3, (0.0, 0.2, 2.0))


def test_a_basket_carries_by_the_angle_of_its_parts() -> None:
    """29 CFR 1918 Appendix II Table 2, natural fibre rope 1 in: vertical 1800, basket 90/60/45/30 degrees 3600/3100/2600/1800."""
    for angle, pounds in ((90, 3600), (60, 3100), (45, 2600), (30, 1800)):
        assert sling_capacity(1800.0, "basket", basket_angle=angle * DEG) == pytest.approx(pounds, rel=0.03)


def test_a_choke_of_120_degrees_is_not_above_120() -> None:
    """ASME B30.9 factors as reproduced in a sling instruction: 90 to 120 degrees 0.87."""
    assert choke_factor(120 * DEG) == 0.87
    assert choke_factor(121 * DEG) == 1.0


def four(**fields: Any) -> list[dict[str, Any]]:
    """Four legs of 3 m on the four lugs, each with its rigging."""
    plain = {"capacity": "20 t", "elongation": 0.01, "fitting": "shackle", "fitting_capacity": "20 t"}
    return legs(LUGS, [3.0] * 4, **(plain | fields))


def of(given: list[dict[str, Any]], **fields: Any) -> ItemResult:
    crane = {"capacity": "20 t", "block": "0 kg", "rigging": "0 kg", "hook_height": "9 m", "clear_over": "0 m"}
    return assessed(lift(4000.0, (0.0, 0.0, -0.5), given, **({"crane": crane} | fields)))


def test_a_fitting_of_no_known_table_pulled_at_an_angle_is_missing() -> None:
    said = [c for c in of(four(fitting="lug")).checks if c.key == "fitting"]
    assert {c.verdict for c in said} == {"missing"}
    assert len(said) == 4
    along = [leg | {"pull_axis": [-x, -y, 2.4]} for leg, (x, y, _) in zip(four(fitting="lug"), LUGS, strict=True)]
    assert not [c for c in of(along).checks if c.key == "fitting"]


def test_names_of_one_kind_of_shackle_agree() -> None:
    one, other = (of(four(fitting=name)) for name in ("shackle", "bow shackle"))
    assert one.results["pull_angle"] == other.results["pull_angle"] == [0.0] * 4
    assert one.results["leg_usage"] == other.results["leg_usage"]


CRANE = {"block": "0 kg", "rigging": "0 kg", "hook_height": "9 m", "clear_over": "0 m"}


def test_a_share_of_the_load_needs_the_other_crane() -> None:
    found = check(of(four(), crane=CRANE | {"capacity": "20 t", "share": 0.5}), "crane_load")
    assert found.verdict == "missing"
    assert found.needs == ("crane.share",)


def test_a_chart_between_rows_is_read_at_the_lesser_row_unless_it_says_otherwise() -> None:
    rows = [{"radius": "5 m", "capacity": "20 t"}, {"radius": "10 m", "capacity": "10 t"}]
    chart = CRANE | {"rating": rows, "radius": "7.5 m"}
    plain = of(four(), crane=chart)
    straight = of(four(), crane=chart | {"chart_rule": "straight"})
    assert straight.results["crane_capacity"] / plain.results["crane_capacity"] == pytest.approx(1.5)
    assert "crane.chart_rule" in {d.field for d in plain.defaults}


def test_one_tag_on_four_legs_is_told() -> None:
    found = check(of(four(tag="S-104")), "sling_tag_twice")
    assert found.verdict == "near"
    assert "1, 2, 3, 4" in found.note


def test_a_sling_that_bends_says_round_what() -> None:
    wire = {"sling": "wire rope 28 mm 6x36 IWRC", "capacity": None, "elongation": None, "hitch": "basket"}
    bare = [{k: v for k, v in leg.items() if v is not None} for leg in four(**wire)]
    assert {c.verdict for c in of(bare).checks if c.key == "bend"} == {"missing"}
    bent = [leg | {"bend_diameter": "280 mm"} for leg in bare]
    assert not [c for c in of(bent).checks if c.key == "bend"]


def test_two_hangs_with_their_own_lengths_give_the_third_coordinate() -> None:
    """Readings made with another centre by the single-hook solver; the plan's own centre is 60 mm off in height."""
    picks = [(0.9, 0.6, 0.4), (-0.9, 0.6, 0.4), (-0.9, -0.6, 0.4), (0.9, -0.6, 0.4)]
    true, weight, stiff = (0.03, -0.02, 0.15), 60e3, 4e7
    readings = []
    for lengths in ((2.6, 2.6, 2.6, 2.6), (2.6, 2.72, 2.72, 2.6)):
        state = hang(picks, lengths, [stiff] * 4, true, weight)
        readings.append(
            {
                "source": "trial lift sheet",
                "leg_loads": [f"{t / 9.80665:.6f} kg" for t in state.tensions],
                "lengths": [f"{1000 * length:.3f} mm" for length in lengths],
            }
        )
    given = legs(picks, [2.6] * 4, capacity="10 t", elongation=10 * 9806.65 / stiff, fitting="shackle",
                 fitting_capacity="10 t")  # fmt: skip
    found = assessed(lift(weight / 9.80665, (0.03, -0.02, 0.21), given, reading=readings, centre_shift="25 mm"))
    assert found.results["trial_centre"] == pytest.approx(true, abs=2e-3)
    assert found.results["trial_miss"] == pytest.approx(0.06, abs=3e-3)
    assert check(found, "trial_hangs").verdict == "ok"


def two_lugs(depth: float, **fields: Any) -> ItemResult:
    """A load on two lugs 2 m apart, its centre ``depth`` below their line."""
    given = legs([(-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)], [2.5, 2.5], capacity="20 t", elongation=0.01, fitting="shackle",
                 fitting_capacity="20 t")  # fmt: skip
    crane = CRANE | {"capacity": "20 t"}
    return assessed(lift(4000.0, (0.0, 0.0, -depth), given, crane=crane, **({"centre_shift": "25 mm"} | fields)))


@pytest.mark.parametrize("depth", [0.030, 0.060, 0.1, 1.5])
def test_the_roll_of_two_lugs_is_the_doubt_of_the_centre_over_its_depth(depth: float) -> None:
    """Statics: nothing but the depth below the line turns it back. atan(25 mm / depth), the centre at its given height."""
    found = two_lugs(depth, centre_rise="0 mm")
    by_hand = math.atan(0.025 / depth)
    assert found.results["roll_worst"] == pytest.approx(by_hand, rel=0.02)
    assert check(found, "roll").verdict == ("ok" if by_hand < 0.9 * 2 * DEG else "fails")
    higher = two_lugs(depth + 0.010, centre_rise="10 mm")
    assert higher.results["roll_worst"] == pytest.approx(by_hand, rel=0.02)


def test_a_centre_whose_doubt_reaches_its_lugs_does_not_hang_upright() -> None:
    """Without a doubt of the height it is taken as high as it may be off sideways, and printed."""
    found = two_lugs(0.020)
    assert check(found, "stability").verdict == "fails"
    assert "centre_rise" in {d.field for d in found.defaults}


def test_a_shaft_in_slings_may_roll_where_the_plan_says_so() -> None:
    assert check(two_lugs(0.1), "roll").verdict == "fails"
    said = check(two_lugs(0.1, rolls_freely=True), "roll")
    assert said.verdict == "ok"
    assert "rolls_freely" in said.note


def test_tilt_beyond_its_limit_fails() -> None:
    far = four()
    far[0] |= {"length": "2.7 m"}
    found = check(of(far, length_tolerance=0.0), "tilt")
    assert found.demand is not None
    assert found.demand > 2 * DEG
    assert found.verdict == "fails"
    assert check(of(far, length_tolerance=0.0, tilt_limit="30 deg"), "tilt").verdict == "ok"


def test_a_fitting_is_judged_at_the_worst_pull_over_the_doubts() -> None:
    """Two lugs whose plane leans 14 degrees with tolerances: the pull leaves it by as much."""
    axes = ([1.0, 0.0, math.sqrt(2.5**2 - 1)], [-1.0, 0.0, math.sqrt(2.5**2 - 1)])
    given = legs([(-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)], [2.5, 2.5], capacity="20 t", elongation=0.001, fitting="shackle",
                 fitting_capacity="20 t")  # fmt: skip
    given = [leg | {"pull_axis": axis} for leg, axis in zip(given, axes, strict=True)]
    sure = assessed(lift(4000.0, (0.0, 0.0, -0.1), given, centre_shift="0 mm", length_tolerance=0.0))
    doubt = assessed(
        lift(4000.0, (0.0, 0.0, -0.1), given, centre_shift="25 mm", centre_rise="0 mm", length_tolerance=0.0)
    )
    assert max(sure.results["pull_angle"]) < 0.5 * DEG
    lean = math.atan(0.25)
    hand = math.acos((1 + (2.5**2 - 1) * math.cos(lean)) / 2.5**2)  # between the pull in its plane and the leaning one
    assert max(doubt.results["pull_angle"]) == pytest.approx(hand, rel=0.05)


def test_the_load_cell_is_told_as_it_hangs_still() -> None:
    """No dynamic factor in what a cell shows at rest; a load 21 % too heavy does not agree with it."""
    found = of(four(), mass_margin=0.10, dynamic=1.10, crane=CRANE | {"capacity": "20 t", "rigging": "100 kg"}).results
    g = 9.80665
    assert found["still_load_low"] == pytest.approx((4000 * 0.9 + 100) * g)
    assert found["still_load_high"] == pytest.approx((4000 * 1.1 + 100) * g)
    assert found["hook_load"] == pytest.approx(1.1 * (4000 * 1.1 + 100) * g)  # dynamic factor on all that hangs
    assert not found["still_load_low"] <= (4000 * 1.21 + 100) * g <= found["still_load_high"]


def test_screen_sheet_and_check_tell_one_still_reading() -> None:
    from splitline.report.sheets.lift import still_words
    from splitline.ui.work.tasks_lift import lift_readings
    from splitline.units import show

    result = of(four(), mass_margin=0.10)
    cell = lift_readings(result, "SI", False)[0]
    assert (cell.low, cell.high) == (result.results["still_load_low"], result.results["still_load_high"])
    assert still_words(result.results, "SI") == f"{show(cell.low or 0, 'force')} to {show(cell.high or 0, 'force')}"


def test_a_trial_reading_far_too_low_does_not_pass() -> None:
    light = of(four(), mass_margin=0.10, reading=[{"source": "trial lift sheet", "load": "2000 kg"}])
    assert check(light, "trial_mass_low").verdict == "fails"
    right = of(four(), mass_margin=0.10, reading=[{"source": "trial lift sheet", "load": "3900 kg"}])
    assert check(right, "trial_mass_low").verdict in ("ok", "near")
