"""Parts of each leg, fittings, angles, tags: what is weakest, what is missing, what is seen only on site."""

from __future__ import annotations

import math

import pytest

from splitline.assess.context import Context
from splitline.assess.lift_rigging import off_axis
from splitline.lifting.rigging import Part
from splitline.plan.model.lift import Leg
from tests.assess.lifts import LIBRARY, LUGS, TODAY, TONNE, assessed, check, legs, lift, verdicts

MASS, CENTRE = 8000.0, (0.0, 0.0, -0.6)
ROPE = {"sling": "wire rope 20 mm 6x36 IWRC", "tag": "W-1", "fitting": "swivel hoist ring", "fitting_capacity": "8 t"}


def four(**fields: object) -> dict[str, object]:
    return lift(MASS, CENTRE, legs(LUGS, [3.0] * 4, **(ROPE | fields)), length_tolerance=0.0)


def test_weakest_part_of_the_chain_is_named() -> None:
    result = assessed(four(adjuster_capacity="10 t"))
    found = check(result, "leg_capacity", "leg 1")
    assert "wire rope 20 mm" in found.title
    assert found.limit == pytest.approx(4.6 * TONNE)
    assert found.demand == pytest.approx(result.results["leg_tension_design"][0])
    weak = check(assessed(four(adjuster_capacity="4 t")), "leg_capacity", "leg 1")
    assert "adjuster" in weak.title
    shackle = check(assessed(four(shackle_capacity="3 t")), "leg_capacity", "leg 1")
    assert "shackle" in shackle.title
    parts: tuple[Part, ...] = result.lift.chains[0]
    names = [part.name for part in parts]
    assert names[:2] == ["adjuster", "wire rope 20 mm 6x36 IWRC"]
    assert names[2].startswith("swivel hoist ring pulled 36.9") or names[2].startswith("swivel hoist ring pulled 36.8")


def test_the_worst_tension_is_checked_where_it_is_greater() -> None:
    given = four()
    given["length_tolerance"], given["sharing"] = 0.005, "all legs"
    result = assessed(given)
    demand = check(result, "leg_capacity", "leg 1").demand
    assert demand == pytest.approx(result.results["leg_tension_worst"][0])
    assert demand > result.results["leg_tension_design"][0]


def test_hitches() -> None:
    # EN 13414-1: choker 0.8 of the straight rating; ASME B30.9: 0.87 of that from 90 degrees of choke
    capacity = check(assessed(four(hitch="choker", choke_angle="100 deg")), "leg_capacity", "leg 1").limit
    assert capacity == pytest.approx(4.6 * TONNE * 0.8 * 0.87)
    free = check(
        assessed(four(hitch="choker")), "leg_capacity", "leg 1"
    ).limit  # above 120 degrees: the whole choker rating
    assert free == pytest.approx(4.6 * TONNE * 0.8)
    # basket of two parts round a bend of D/d = 6: 0.79 of 2 x 4.6 t, above the hoist ring's 8 t only without the bend
    basket = four(hitch="basket", basket_angle="90 deg", bend_diameter="120 mm", fitting=None)
    bent = check(assessed(basket), "leg_capacity", "leg 1").limit
    assert bent == pytest.approx(2 * 4.6 * TONNE * 0.79)


def test_own_capacity_wins_over_the_table() -> None:
    assert check(assessed(four(capacity="5 t")), "leg_capacity", "leg 1").limit == pytest.approx(5 * TONNE)


def test_eyebolt_angled_pull_takes_the_lowest_table() -> None:
    eye = {"fitting": "eyebolt, shouldered", "fitting_capacity": "10 t"}
    result = assessed(four(**eye))
    angle = result.results["pull_angle"][0]
    assert math.degrees(angle) == pytest.approx(90 - math.degrees(result.results["leg_angle"][0]), rel=1e-3)
    # at 36.9 degrees: 1 - 0.75 x 36.9/45 = 0.386 (25 % at 45 degrees, two published tables) is below 0.49 of the third
    share = 1 - 0.75 * math.degrees(angle) / 45
    found = check(result, "leg_capacity", "leg 1")
    assert "eyebolt" in found.title
    assert found.limit == pytest.approx(10 * TONNE * share, rel=1e-3)
    own = assessed(four(**eye, reduction=[["0 deg", 1.0], ["45 deg", 0.3]], reduction_source="site card")).checks
    assert any("site card" in c.basis for c in own if c.key == "leg_capacity" and "eyebolt" in c.title)


def test_nothing_may_hang_beyond_the_table() -> None:
    eye = {"fitting": "eyebolt, shouldered", "fitting_capacity": "50 t", "reduction": [["0 deg", 1.0], ["20 deg", 0.5]]}
    found = check(assessed(four(**eye)), "leg_capacity", "leg 1")
    assert found.verdict == "fails"
    assert "angle" in found.note


def test_pull_axis_along_the_leg_takes_nothing_off() -> None:
    result = assessed(
        lift(
            MASS,
            CENTRE,
            legs(LUGS[:1], [3.0], capacity="20 t", fitting="shackle", fitting_capacity="9 t", pull_axis=[1, 0, 0]),
        )
    )
    side = result.results["pull_angle"][0]
    free = assessed(
        lift(MASS, CENTRE, legs(LUGS[:1], [3.0], capacity="20 t", fitting="shackle", fitting_capacity="9 t"))
    )
    assert free.results["pull_angle"][0] == 0.0
    assert side > 0.5
    full, less = check(free, "leg_capacity").limit, check(result, "leg_capacity").limit
    assert full == pytest.approx(9 * TONNE)
    assert less is not None
    assert less < 8 * TONNE


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"sling": None}, "leg_capacity"),
        ({"fitting": None, "fitting_capacity": None}, "fitting"),
        ({"fitting_capacity": None}, "fitting"),
    ],
)
def test_unknown_ratings_are_missing(change: dict[str, None], key: str) -> None:
    fields = {name: value for name, value in (ROPE | change).items() if value is not None}
    result = assessed(lift(MASS, CENTRE, legs(LUGS[:1], [3.0], **fields)))
    found = [c for c in result.checks if c.verdict == "missing" and c.key == key]
    assert found
    assert found[0].needs


def test_a_basket_needs_no_fitting() -> None:
    fields = {"capacity": "5 t", "hitch": "basket"}
    assert "fitting" not in verdicts(assessed(lift(MASS, CENTRE, legs(LUGS[:1], [3.0], **fields))))


def test_sling_tags_are_read_on_site() -> None:
    given = four(tag=None)
    for leg in given["leg"]:  # type: ignore[attr-defined]
        leg.pop("tag")
    assert check(assessed(given), "sling_tag").verdict == "on-site"
    tags = {("lift", f"leg.{n}.tag"): f"T{n}" for n in range(1, 5)}
    assert "sling_tag" not in verdicts(assessed(given, tags))


def test_flat_legs_fail_and_both_angles_are_said() -> None:
    flat = lift(MASS, CENTRE, legs([(-1.5, 0, 0), (1.5, 0, 0)], [1.6, 1.6], **ROPE), minimum_angle="30 deg")
    found = check(assessed(flat), "leg_angle")
    assert found.verdict == "fails"
    assert found.sense == "at least"
    assert "from the vertical" in found.note


def test_library_slip_is_said_not_raised() -> None:
    given = lift(
        MASS, CENTRE, legs(LUGS[:1], [3.0], capacity="20 t", fitting="hook with wings", fitting_capacity="1 t")
    )
    assert check(assessed(given), "fitting").verdict == "missing"


def test_a_basket_of_no_given_angle_carries_no_more_than_one_straight_part() -> None:
    """ASME B30.9: 2 sin 30° = 1; the flattest basket that is usual."""
    given = lift(4000.0, (0, 0, -0.5), legs(LUGS, [3.0] * 4, capacity="7 t", hitch="basket", bend_diameter="300 mm"))
    result = assessed(given)
    assert [check(result, "leg_capacity", f"leg {n}:").limit for n in (1, 2, 3, 4)] == pytest.approx([7 * TONNE] * 4)
    assert {d.field: d.said for d in result.defaults}["leg.3.basket_angle"] == "30°"


@pytest.mark.parametrize(
    ("degrees", "known", "told"),
    [(0.95, True, False), (1.05, True, True), (4.9, False, False), (5.1, False, None)],
)
def test_a_pull_off_the_axis_is_told_from_one_degree_and_without_a_table_refused_from_five(
    degrees: float, known: bool, told: bool | None
) -> None:
    """Common practice, no published source: a degree is read with no instrument, five are seen."""
    leg = Leg.model_validate({"fitting": "lug"} | ({"reduction": [["0 deg", 1.0], ["90 deg", 0.1]]} if known else {}))
    found = off_axis(leg, None, 1000.0, math.radians(degrees), Context(LIBRARY, TODAY))
    assert (found is None) == (told is None)
    if found is not None:
        assert found.capacity == pytest.approx(1000.0 * (1.0 - 0.01 * degrees if known else 1.0))
        assert ("pulled" in found.name) == told


def test_the_loads_of_a_basket_stretch_half_as_much() -> None:
    """Two parts of a rope side by side are twice as stiff; EA from the strain at the rated capacity."""
    single, basket = (
        assessed(
            lift(4000.0, (0, 0, -0.5), legs([(0.0, 0.0, 0.0)], [3.0], capacity="5 t", elongation=0.01, hitch=hitch))
        )
        for hitch in ("single", "basket")
    )
    grown = [result.results["hook"][2] - 3.0 for result in (single, basket)]
    assert grown[0] == pytest.approx(3.0 * 0.01 * 4.0 / 5.0)
    assert grown[1] == pytest.approx(grown[0] / 2)


def test_a_default_is_the_value_its_field_tells() -> None:
    """Whoever writes the shown default into the plan changes no result, limit or verdict: tables and standards as named there."""
    crane = {"rigging": "100 kg", "block": "0 kg", "capacity": "12 t"}
    bare = lift(MASS, CENTRE, legs(LUGS, [3.0] * 4, **ROPE), centre_shift="20 mm", wind_speed="9 m/s", wind_area="5 m^2",
                wind_angle_limit="3 deg", crane=crane)  # fmt: skip
    del bare["dynamic"]
    told = {"dynamic": 1.1, "centre_rise": "20 mm", "tilt_limit": "2 deg", "length_tolerance": 0.005, "sharing": "two legs",
            "minimum_angle": "30 deg", "wind_drag": 1.6}  # fmt: skip
    written = bare | told | {"crane": crane | {"critical_fraction": 0.75, "chart_includes_block": False}}
    one, other = assessed(bare), assessed(written)
    assert one.results == other.results
    for left, right in zip(one.checks, other.checks, strict=True):
        assert (left.about, left.verdict) == (right.about, right.verdict)
        assert (left.demand, left.limit) == pytest.approx((right.demand, right.limit))
    unsaid = {d.field for d in one.defaults} - {d.field for d in other.defaults}
    assert unsaid == {*told, "crane.critical_fraction", "crane.chart_includes_block"} - {"tilt_limit"}


def test_a_lift_is_critical_from_three_quarters_of_the_crane() -> None:
    """Share of steel erection, 75 % (29 CFR 1926.751, from memory)."""
    for capacity, verdict in (("13.25 t", "near"), ("13.4 t", "ok")):
        crane = {"rigging": "0 kg", "block": "0 kg", "capacity": capacity}
        result = assessed(lift(10000.0, CENTRE, legs(LUGS, [3.0] * 4, **ROPE), crane=crane))
        assert check(result, "critical_lift").verdict == verdict


def test_a_tag_on_two_legs_is_told_with_its_legs() -> None:
    """29 CFR 1910.184: the tag governs; one tag is one sling."""
    rope = legs(LUGS, [3.0] * 4, **ROPE)
    for number, leg in enumerate(rope, 1):
        leg["tag"] = "S-1" if number in (2, 4) else f"T-{number}"
    result = assessed(lift(MASS, CENTRE, rope))
    found = [c for c in result.checks if c.key == "sling_tag_twice"]
    assert [(c.title, c.verdict) for c in found] == [("Sling tag S-1", "near")]
    assert "legs 2, 4" in found[0].note
