"""Crane, headroom, tilt against the spigot, adjusters, upending, trial lift."""

from __future__ import annotations

import math
from typing import Any

import pytest

from splitline.assess.lift_told import Picture
from splitline.library.slings import sling
from splitline.lifting.hang import hang
from tests.assess.lifts import LIBRARY, LUGS, TONNE, assessed, check, legs, lift, verdicts

MASS, CENTRE = 8000.0, (0.0, 0.0, 0.5)
ROPE = {"sling": "wire rope 20 mm 6x36 IWRC", "tag": "W-1", "fitting": "swivel hoist ring", "fitting_capacity": "8 t"}
CRANE: dict[str, Any] = {
    "capacity": "20 t", "block": "450 kg", "rigging": "260 kg", "hook_height": "9.5 m", "clear_over": "4.2 m",
}  # fmt: skip
PICKS = [(x, y, 0.8) for x, y, _ in LUGS]


def four(crane: dict[str, Any] | None = CRANE, **fields: Any) -> dict[str, Any]:
    given = lift(MASS, CENTRE, legs(PICKS, [3.0] * 4, **ROPE), mass_margin=0.1, dynamic=1.1, length_tolerance=0.0)
    if crane is not None:
        given["crane"] = crane
    return given | fields


def test_hook_and_crane_load() -> None:
    result = assessed(four())
    r = result.results
    # the dynamic factor takes all that hangs, the rigging too (0027/ND: dynamic hook load = DAF x static hook load, from memory)
    assert r["hook_load"] == pytest.approx(1.1 * (8000 * 1.1 + 260) * 9.80665)
    assert r["crane_load"] == pytest.approx(r["hook_load"] + 450 * 9.80665)
    assert r["crane_usage"] == pytest.approx(r["crane_load"] / (20 * TONNE))
    # hanging still a load cell shows no dynamic factor: the load within its margin, and what hangs below the cell
    still = [r[f"still_load{end}"] / 9.80665 for end in ("_low", "", "_high")]
    assert still == pytest.approx([8000 * 0.9 + 260, 8000 + 260, 8000 * 1.1 + 260])
    assert check(result, "crane_usage").verdict == "ok"
    rated_below = assessed(four(CRANE | {"chart_includes_block": True})).results
    assert rated_below["crane_load"] == pytest.approx(r["hook_load"])


def test_critical_share_is_marked() -> None:
    assert check(assessed(four()), "critical_lift").verdict == "ok"
    assert check(assessed(four(CRANE | {"capacity": "13 t"})), "critical_lift").verdict == "near"
    assert check(assessed(four(CRANE | {"critical_fraction": 0.4})), "critical_lift").verdict == "near"
    assert check(assessed(four(CRANE | {"capacity": "9 t"})), "crane_usage").verdict == "fails"


def test_chart_by_radius() -> None:
    chart = CRANE | {"rating": [{"radius": "6 m", "capacity": "20 t"}, {"radius": "8 m", "capacity": "14 t"}]}
    del chart["capacity"]
    at = assessed(four(chart | {"radius": "7 m"}))
    assert at.results["crane_capacity"] == pytest.approx(14 * TONNE)
    straight = assessed(four(chart | {"radius": "7 m", "chart_rule": "straight"}))
    assert straight.results["crane_capacity"] == pytest.approx(17 * TONNE)
    assert check(assessed(four(chart)), "crane_usage").verdict == "on-site"
    assert assessed(four(chart), {("lift", "crane.radius"): 8.0}).results["crane_capacity"] == pytest.approx(14 * TONNE)
    beyond = check(assessed(four(chart | {"radius": "9 m"})), "crane_usage")
    assert (beyond.verdict, "outside the chart" in beyond.note) == ("fails", True)


@pytest.mark.parametrize(
    ("field", "key"),
    [("capacity", "crane_usage"), ("block", "crane_load"), ("rigging", "hook_load"), ("hook_height", "headroom")],
)
def test_missing_crane_data(field: str, key: str) -> None:
    result = assessed(four({name: value for name, value in CRANE.items() if name != field}))
    assert check(result, key).verdict == "missing"
    assert key not in result.results
    assert check(assessed(four(None)), "crane_usage").verdict == "missing"


def test_headroom_of_a_level_load() -> None:
    result = assessed(four())
    height = result.results["hook"][2]
    assert result.results["headroom"] == pytest.approx(9.5 - 4.2 - height, rel=1e-6)
    low = assessed(four(CRANE | {"hook_height": f"{4.2 + height + 0.1!r} m"}))
    assert check(low, "headroom").verdict == "fails"


def test_wind_and_hook() -> None:
    result = assessed(four(wind_force="3.6 kN", hook={"capacity": "10 t"}))
    # the lightest the load may be, its mass within the margin of 0.1, leans most
    assert result.results["wind_angle"] == pytest.approx(math.atan(3600 / (0.9 * 8000 * 9.80665)))
    assert check(result, "hook").usage == pytest.approx(result.results["hook_load"] / (10 * TONNE))


SPIGOT = {
    "axis": [0, 1, 0],
    "clearance": "0.30 mm",
    "engagement": "60 mm",
    "diameter": "800 mm",
    "guide_pin_length": "180 mm",
}


def head(*, adjuster: bool, offset: float = 0.0, **fields: Any) -> dict[str, Any]:
    """A head hung by two rim lugs and a third leg on its face."""
    rig = legs([(-0.26, 0.12, 0.5), (0.26, 0.12, 0.5), (0.0, 0.24, 0.45)], [1.6, 1.6, 1.66 + offset], **ROPE)
    if adjuster:
        rig[2] |= {"adjuster_capacity": "3 t", "adjuster_step": "2 mm"}
    return lift(2400.0, (0.0, 0.13, 0.0), rig, spigot=SPIGOT, length_tolerance=0.002, centre_shift="5 mm") | fields


def test_spigot_allows_half_of_clearance_over_engagement() -> None:
    result = assessed(head(adjuster=True))
    assert result.results["spigot_tilt"] == pytest.approx(0.5 * 0.30 / 60)
    assert result.results["axis_rise"] == pytest.approx(0.8 * math.tan(result.results["axis_tilt"]))
    assert check(result, "guide_pins").verdict == "ok"
    assert {c.code for c in result.cautions} >= {"suspended-load", "trial-lift", "pinch", "hidden-bolts"}
    lacking = head(adjuster=True, spigot={"axis": [0, 1, 0], "clearance": "0.3 mm"})
    assert check(assessed(lacking), "spigot_tilt").verdict == "missing"


def test_without_an_adjuster_the_worst_tilt_counts() -> None:
    fixed, trimmed = assessed(head(adjuster=False)), assessed(head(adjuster=True))
    assert check(fixed, "spigot_tilt").demand == pytest.approx(fixed.results["axis_tilt_worst"])
    assert check(trimmed, "spigot_tilt").demand == pytest.approx(trimmed.results["axis_tilt"])


def test_adjuster_says_how_far_to_turn() -> None:
    given = head(adjuster=True)
    result = assessed(given)
    change = result.results["adjust"]
    assert change[:2] == [0.0, 0.0]
    given["leg"][2]["length"] = f"{1.66 + change[2]!r} m"
    assert assessed(given).results["tilt"] == pytest.approx(result.results["adjusted_tilt"], abs=1e-6)
    assert result.results["adjusted_tilt"] < result.results["tilt"]
    assert any("To level" in note and "turns" in note for note in result.notes)


def upend(**tail: Any) -> dict[str, Any]:
    """Published case: 150 t vessel, tail lug 3 m off the axis, 36.48 m between lugs."""
    rig = legs([(36.48, 0.0, 0.0)], [3.0], capacity="200 t", tag="T", fitting="lug", fitting_capacity="200 t")
    at = {"kind": "hook", "pick": ["0 m", "0 m", "3 m"], **tail}
    return lift(150e3, (67.6 / 150 * 36.48, 0.0, 0.0), rig, tail=at, centre_shift="0.2 m")


def test_upending_shares() -> None:
    # a published article, 2013, Table 1
    r = assessed(upend()).results
    found = {round(math.degrees(a)): h / TONNE for a, h in zip(r["upend_angles"], r["upend_head"], strict=True)}
    for angle, main in ((0, 67.6), (45, 73.9), (70, 82.8), (80, 93.8), (85, 107.5), (90, 150.0)):
        assert found[angle] == pytest.approx(main, rel=0.004)
    for low, mid, high in zip(r["upend_tail_low"], r["upend_tail"], r["upend_tail_high"], strict=True):
        assert low <= mid <= high
    assert r["leg_tension"] == pytest.approx([150e3 * 9.80665])


def test_upending_checks() -> None:
    assert check(assessed(upend()), "upend_tail").verdict == "missing"
    assert check(assessed(upend(capacity="100 t")), "upend_tail").verdict == "ok"
    assert check(assessed(upend(capacity="100 t", crane_capacity="60 t")), "upend_crane").verdict == "fails"
    assert any(c.code == "upending-hooks" for c in assessed(upend()).cautions)
    floor = lift(5000.0, (0.5, 0, 0.4), legs([(2.0, 0, 0.4)], [2.0], capacity="20 t", tag="T"),
                 tail={"kind": "floor", "pick": ["0 m", "0 m", "0 m"]})  # fmt: skip
    result = assessed(floor)
    assert result.results["upend_runaway"] == pytest.approx(math.atan(0.5 / 0.4), abs=1e-4)
    assert check(result, "upend_runaway").verdict == "near"


def test_fittings_are_checked_as_the_pull_turns() -> None:
    given = upend(capacity="150 t")
    given["leg"][0] |= {"fitting": "eyebolt, shouldered", "fitting_capacity": "200 t"}
    found = check(assessed(given), "upend_fitting")
    assert found.verdict == "fails"
    assert "off its axis" in found.note


def test_unknown_centre_waits_for_a_trial_lift() -> None:
    rig = legs(PICKS, [2.99, 3.0, 3.0, 3.0], **ROPE)
    unknown = lift(MASS, "unknown", rig, crane=CRANE)
    result = assessed(unknown)
    assert check(result, "centre").verdict == "on-site"
    assert check(result, "leg_tension").verdict == "on-site"
    assert "leg_tension" not in result.results
    assert "crane_load" in result.results
    state = hang(
        PICKS, [2.99, 3.0, 3.0, 3.0], [sling(LIBRARY, ROPE["sling"]).stiffness] * 4, (0.2, 0.05, 0.5), MASS * 9.80665
    )
    reading = {"source": "trial lift sheet 7", "leg_loads": [f"{t!r} N" for t in state.tensions]}
    told = assessed(unknown | {"reading": [reading]})
    assert "centre" not in verdicts(told)
    assert told.results["leg_tension"] == pytest.approx(state.tensions, rel=1e-3, abs=50)
    assert told.results["trial_mass"] == pytest.approx(MASS, rel=1e-4)
    del reading["source"]
    undocumented = assessed(unknown | {"reading": [reading]})
    assert check(undocumented, "trial").verdict == "missing"
    assert check(undocumented, "centre").verdict == "on-site"


def test_trial_lift_is_held_against_the_plan() -> None:
    rig = legs(PICKS, [3.0] * 4, **ROPE)
    reading = {"source": "sheet 7", "load": "9 t", "tilt_x": "0 deg", "tilt_y": "2 deg"}
    result = assessed(lift(MASS, CENTRE, rig, mass_margin=0.05, centre_shift="25 mm", reading=[reading]))
    assert check(result, "trial_mass").verdict == "fails"
    assert check(result, "trial_centre").verdict == "fails"


def test_picture_for_the_drawing() -> None:
    picture = assessed(four()).lift.picture
    assert isinstance(picture, Picture)
    assert picture.picks == tuple(PICKS)
    assert picture.tops == (picture.hook,) * 4
    assert picture.centre == pytest.approx(CENTRE)


def test_a_spigot_level_as_drawn_only_is_to_be_trimmed() -> None:
    level = head(adjuster=True)
    level["leg"][2].pop("length")
    for leg in level["leg"][:2]:
        leg.pop("length")
    result = assessed(level | {"hook": {"above_picks": "1.5 m"}})
    assert result.results["axis_tilt"] < result.results["spigot_tilt"] < result.results["axis_tilt_worst"]
    assert check(result, "spigot_tilt").verdict == "ok"
    found = check(result, "spigot_trim")
    assert found.verdict == "near"
    assert "trim with the adjuster of leg 3" in found.note
    sure = assessed(level | {"hook": {"above_picks": "1.5 m"}, "length_tolerance": 0.0, "centre_shift": "0.01 mm"})
    assert "spigot_trim" not in verdicts(sure)


def test_an_adjuster_too_coarse_for_the_spigot_is_named() -> None:
    given = head(adjuster=True, hook={"above_picks": "1.5 m"})
    for leg in given["leg"]:
        leg.pop("length")
    given["leg"][2]["adjuster_step"] = "48 mm"
    result = assessed(given)
    assert min(t for t in result.results["step_tilt"] if t) / 2 > result.results["spigot_tilt"]
    assert "a finer adjuster is needed" in check(result, "spigot_trim").note
    given["leg"][2]["adjuster_step"] = "0.1 mm"
    assert "a finer adjuster" not in check(assessed(given), "spigot_trim").note


@pytest.mark.parametrize(("share", "coarse"), [(1.03, True), (0.97, False)])
def test_half_a_link_is_what_the_nearest_leaves(share: float, coarse: bool) -> None:
    """The nearest link is at most half a link away: a finer one is asked for only where that half is more than allowed."""
    given = head(adjuster=True, hook={"above_picks": "1.5 m"})
    for leg in given["leg"]:
        leg.pop("length")
    given["leg"][2]["adjuster_step"] = "10 mm"
    found = assessed(given).results
    step = 10.0 * share * 2.0 * found["spigot_tilt"] / found["step_tilt"][2]
    given["leg"][2]["adjuster_step"] = f"{step!r} mm"
    note = check(assessed(given), "spigot_trim").note
    assert ("a finer adjuster is needed" in note) == coarse
    if coarse:
        moves, left = (math.tan(part * share * found["spigot_tilt"]) * 1e3 for part in (2.0, 1.0))
        assert f"moves it {moves:.1f} mm per m: the nearest may leave {left:.1f} mm per m" in note


def test_every_adjuster_tells_what_it_does_and_which_way_to_turn() -> None:
    """A leg 30 mm too long beside one that is right: the advice takes it in by about that, in links of 10 mm."""
    rope = legs(PICKS, [3.0, 3.0, 3.0, 3.03], **ROPE)
    rope[3] |= {"adjuster_capacity": "10 t", "adjuster_step": "10 mm", "name": "far"}
    result = assessed(lift(MASS, CENTRE, rope, crane=CRANE, length_tolerance=0.0))
    taken = -result.results["adjust"][3]
    assert 0.025 < taken < 0.035
    by_step, by_10 = (f"{math.tan(result.results['step_tilt'][3]) * 1e3:.1f} mm per m",) * 2
    first, last = result.lift.levelling
    assert first == f"Adjuster of leg 4 (far): {by_10} by 10 mm, {by_step} by one link or turn (10 mm)."
    assert f"take in leg 4 (far) {taken * 1e3:.4g} mm ({taken / 0.010:.1f} links or turns)" in last
    assert result.results["adjusted_tilt"] < 0.1 * result.results["tilt"]
    assert {first, last} <= set(result.notes)


def test_a_centre_nobody_gave_is_missing_and_not_left_to_the_site() -> None:
    given = lift(MASS, CENTRE, legs(PICKS, [3.0] * 4, **ROPE), crane=CRANE)
    del given["part"][0]["at"]
    result = assessed(given)
    assert check(result, "centre").verdict == check(result, "leg_tension").verdict == "missing"
    assert check(result, "leg_tension").needs == ("part.1.at",)


def test_a_two_leg_load_s_roll_is_told_from_the_slope_of_its_picks() -> None:
    rig = legs([(-0.8, 0.0, 0.09), (0.8, 0.0, 0.09)], [2.5, 2.5], **ROPE)
    result = assessed(lift(1840.0, (0.0, 0.0, 0.0), rig, centre_shift="20 mm", centre_rise="0 mm"))
    assert result.results["tilt_worst"] == pytest.approx(math.atan2(20, 90), rel=0.05)
    assert "the rest roll about it" in check(result, "tilt").note
    assert 0 < result.results["pick_line_tilt"] < 0.25 * result.results["tilt_worst"]
    assert "tilt_trim" not in verdicts(result)
