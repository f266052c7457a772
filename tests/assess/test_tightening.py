"""Tightening in the assessment: keys, defaults said, what is missing, sizes, readings."""

from __future__ import annotations

import json
from typing import Any

import numpy as np
import pytest

from splitline.assess.context import Observed
from splitline.assess.made_up import JointMadeUp
from splitline.assess.result import ItemResult
from splitline.assess.tightening import Predicted
from splitline.assess.tightening_play import chance_of, compare_ways, need_of, play, usual_ways
from tests.assess.joint_plans import assess, check, joint

SPLIT = {
    "layout": {
        "shape": "split-line",
        "side_a": ["80 mm", "230 mm", "380 mm", "530 mm", "680 mm"],
        "half_width": "0.4 m",
    },
    "member__flange_width": "97 mm",
    "load": {"holds_pressure": False},
    "case": None,
}


def made(result: ItemResult) -> JointMadeUp:
    found = result.joint.made_up
    assert isinstance(found, JointMadeUp)
    return found


def test_keys_of_the_agreed_shape() -> None:
    result = assess()
    r = result.results
    assert r["order"][:4] == [1, 13, 7, 19]
    assert sorted(r["order"]) == list(range(1, 25))
    assert [bolt for step in r["order_steps"] for bolt in step] == r["order"]
    a = np.array(r["interaction"])
    assert a.shape == (24, 24)
    assert np.diag(a) == pytest.approx(1.0)
    assert -0.05 < a[1, 0] < 0
    passes = np.array(r["predicted_passes"])
    assert passes.shape == (5, 24)  # snug, three passes, one round
    assert passes[-1] == pytest.approx(r["predicted"])
    last = r["order"][-1] - 1
    for row, share in zip(passes, (0.1, 0.3, 0.6, 1.0, 1.0), strict=True):
        assert row[last] == pytest.approx(share * r["preload"], rel=1e-9)
    final = np.array(r["predicted"])
    assert r["predicted_spread"] == pytest.approx((final.max() - final.min()) / final.mean())
    assert r["predicted_low"] < final.min()
    json.dumps(r, allow_nan=False)


def test_low_preload_counts_the_predicted_low() -> None:
    r = assess().results
    assert r["preload_low"] == pytest.approx(min(0.75 * r["preload"], r["predicted_low"]) * 0.95)


def test_low_preload_without_a_layout_is_scatter_and_relaxation_of_what_is_set() -> None:
    """F_low = F·(1 − 0.25)·(1 − 0.05), ± 25 % of the method, 5 % of metal faces: nothing is predicted without places."""
    r = assess(layout=None).results
    assert "predicted_low" not in r
    assert r["preload_low"] == pytest.approx(min(r["preload"], r.get("preload_set", r["preload"])) * 0.75 * 0.95)


def test_one_tool_where_nobody_says_how_many() -> None:
    result = assess()
    assert {default.field: default.said for default in result.defaults}["tightening.tools_together"] == "1"
    assert {len(step) for step in result.results["order_steps"]} == {1}


def test_every_default_is_said_with_its_basis() -> None:
    said = {default.field: default for default in assess().defaults}
    for field in (
        "tightening.order",
        "tightening.tools_together",
        "tightening.finish_rounds",
        "tightening.scatter_common",
        "member.contact_stiffness",
        "member.initial_gap",
    ):
        assert said[field].said
        assert said[field].basis
    assert "E / clamp length" in said["member.contact_stiffness"].basis
    given = assess(
        tightening__order="cross", tightening__tools_together=2, tightening__finish_rounds=1,
        tightening__scatter_common=0.3, member__contact_stiffness="1.2 MPa/um", member__initial_gap="0 mm",
    )  # fmt: skip
    assert not {"tightening.order", "member.contact_stiffness", "tightening.scatter_common"} & {
        default.field for default in given.defaults
    }
    assert given.results["contact_stiffness"] == pytest.approx(1.2e12)


def test_default_face_is_modulus_over_clamp_length() -> None:
    assert assess().results["contact_stiffness"] == pytest.approx(200e9 / 0.268)


@pytest.mark.parametrize(
    ("field", "need"),
    [
        ("member__outer_diameter", "member.outer_diameter"),
        ("member__flange_thickness", "member.flange_thickness"),
        ("layout__diameter", "layout.diameter"),
    ],
)
def test_without_a_flange_the_prediction_is_missing_and_the_order_stays(field: str, need: str) -> None:
    result = assess(**{field: None})
    assert check(result, "interaction").verdict == "missing"
    assert need in check(result, "interaction").needs
    assert "order" in result.results
    assert "predicted" not in result.results


def test_a_gasket_must_state_its_stiffness() -> None:
    gasketed: dict[str, Any] = {"load__seal": "gasket", "load__gasket_width": "20 mm", "load__gasket_m": 3.0,
                                "load__gasket_y": "69 MPa"}  # fmt: skip
    assert check(assess(**gasketed), "interaction").needs == ("member.contact_stiffness",)
    soft = assess(**gasketed, member__contact_stiffness="20 MPa/mm")
    assert soft.results["interaction"][1][0] < -0.1
    assert soft.results["predicted_spread"] > 0.05


def test_an_order_that_does_not_fit_is_said() -> None:
    found = check(assess(tightening__order="centre-out"), "order")
    assert found.verdict == "missing"
    assert "bolt circle" in found.note


def test_split_line_goes_centre_out_and_sides_do_not_meet() -> None:
    r = assess(**SPLIT).results
    assert r["order"][:2] == [3, 8]
    a = np.array(r["interaction"])
    assert (a[:5, 5:] == 0).all()
    assert a[1, 0] < 0


def test_first_bolts_and_two_sizes() -> None:
    size = [
        {"bolts": [1, 2, 13, 24], "first": True, "bolting": {"thread": "M56x4"}, "target": {"bolt_stress": "300 MPa"}}
    ]
    result = assess(size=size, tightening__tools_together=2)
    r = result.results
    assert set(r["order"][:4]) == {1, 2, 13, 24}
    for step in r["order_steps"]:
        assert len({bolt in (1, 2, 13, 24) for bolt in step}) == 1
    own = result.sizes[0].results["preload"]
    final = np.array(r["predicted"])
    assert final[[0, 1, 12, 23]] == pytest.approx(own, rel=0.02)
    main = np.delete(final, [0, 1, 12, 23])
    assert r["predicted_spread"] == pytest.approx((main.max() - main.min()) / main.mean())
    assert r["predicted_low"] < main.min()


def test_tensioners_take_their_coverage_as_the_order() -> None:
    result = assess(
        tightening__method="hydraulic tensioner",
        tightening__coverage=0.5,
        bolting__stud_protrusion="60 mm",
        tightening__tool=[
            {
                "name": "set",
                "piston_area": "7000 mm^2",
                "pressure_max": "1500 bar",
                "serial": "1",
                "calibration_due": None,
            }
        ],
    )
    r = result.results
    assert [len(step) for step in r["order_steps"]] == [12, 12]
    assert r["group_loads"][0] > r["group_loads"][1]
    assert r["group_loads"][1] == pytest.approx(r["preload"], rel=1e-6)
    assert r["group_pressures"][0] == pytest.approx(r["group_loads"][0] * r["tensioner_loss"] / 7e-3)
    assert r["group_breakaway"] == pytest.approx([r["preload"]] * 2, rel=1e-6)


def test_measured_coefficients_take_the_place_of_the_model() -> None:
    r = assess(tightening__interaction=[1.0, -0.08, -0.02], member__flange_thickness=None).results
    a = np.array(r["interaction"])
    assert a[0, :4].tolist() == [1.0, -0.08, -0.02, 0.0]
    assert "contact_stiffness" not in r
    wrong = check(assess(tightening__interaction=[0.9, -0.08]), "interaction")
    assert "must be 1.0" in wrong.note


def test_points_are_predicted_only_with_coefficients() -> None:
    square = [["0 mm", "0 mm"], ["100 mm", "0 mm"], ["200 mm", "0 mm"], ["200 mm", "100 mm"], ["0 mm", "100 mm"]]
    without = assess(layout={"shape": "points", "points": square})
    assert sorted(without.results["order"]) == [1, 2, 3, 4, 5]
    assert "predicted" not in without.results
    assert any("points" in note for note in without.notes)
    told = assess(layout={"shape": "points", "points": square}, tightening__interaction=[1.0, -0.1])
    assert len(told.results["predicted"]) == 5


def test_a_wide_flange_is_said_to_be_rough() -> None:
    wide = assess(member__inner_diameter="300 mm")
    assert any("only roughly described" in note for note in wide.notes)
    assert not any("only roughly described" in note for note in assess().notes)


def test_gap_shows_in_the_early_passes() -> None:
    gaps = ["0 mm"] * 10 + ["0.4 mm"] * 4 + ["0 mm"] * 10
    gapped, tight = assess(member__initial_gap=gaps).results, assess().results
    assert gapped["predicted_spreads"][0] > 3 * tight["predicted_spreads"][0]


def test_too_few_passes_draw_a_caution_and_little_interaction_no_praise() -> None:
    few = assess(tightening__passes=[1.0], tightening__finish_rounds=0)
    assert any("1 pass and 0 check rounds are planned" in note for note in few.notes)
    assert any("Keep three passes and a check round" in note for note in assess().notes)


def test_levelling_is_bounded_by_yield() -> None:
    r = assess(member__contact_stiffness="30 MPa/mm", tightening__finish_rounds=0).results
    assert r["levelling_spread"] < r["predicted_spread"]
    limit = 0.9 * r["preload"] / r["yield_usage"]
    assert max(r["levelling_loads"]) <= limit


def test_rounds_and_times() -> None:
    r = assess(tightening__minutes_per_step=3, tightening__tools_together=2).results
    assert len(r["rounds_spread"]) == 4
    assert r["rounds_spread"][1] == pytest.approx(r["predicted_spread"])
    assert r["pass_times"] == pytest.approx([60 * (5 + 12 * 3)] * 5)
    assert r["crew_time"] == pytest.approx(3 * r["tightening_time"])


def test_readings_give_coefficients_that_only_a_person_takes_over() -> None:
    plain = assess(layout__bolts=20, tightening__interaction=[1.0, -0.12, -0.03])
    loads = plain.results["predicted_passes"][3]
    observed = Observed(preloads={"head": {"3": dict(enumerate((0.95 * load for load in loads), 1))}})
    read = assess(layout__bolts=20, observed=observed)
    r = read.results
    assert r["interaction_fitted"] == pytest.approx([1.0, -0.12, -0.03], abs=1e-6)
    assert r["fitted_scale"] == pytest.approx(0.95)
    assert r["interaction"] == assess(layout__bolts=20).results["interaction"]
    assert any("only when a person" in note for note in read.notes)
    few = assess(observed=Observed(preloads={"head": {"3": {1: 5e5, 2: 5e5}}}))
    assert any("No coefficients from readings" in note for note in few.notes)


def test_need_and_chance_come_from_the_cases() -> None:
    result = assess(case=[{"name": "design", "pressure": "60 bar"}])
    need = need_of(result)
    assert need is not None
    r = result.results
    # Pressure force over the bolts, none of it relieved (n = 0), times 1.2; 5 % is lost to relaxation.
    assert r["preload"] > 0
    by_hand = 1.2 * 60e5 * np.pi / 4 * 1.010**2 / 24 / 0.95
    assert need == pytest.approx(by_hand)
    low = assess(case=[{"name": "design", "pressure": "165 bar"}])
    hand = low.joint.predicted
    assert isinstance(hand, Predicted)
    chance = chance_of(low)
    assert chance is not None
    assert chance == pytest.approx(hand.scattered.extremes.lowest_below(need_of(low) or 0.0))
    assert chance > (chance_of(result) or 0.0)


def test_the_need_is_that_of_the_worst_case_of_the_main_size() -> None:
    """Greatest over the cases; bolts of another size have a need of their own, which is not told as the main size's."""
    cases = [{"name": "leak test", "pressure": "20 bar", "kind": "test"}, {"name": "design", "pressure": "150 bar"}]
    result = assess(case=cases)
    by_hand = 1.2 * 150e5 * np.pi / 4 * 1.010**2 / 24 / 0.95
    assert result.results["needed_preload"] == pytest.approx(by_hand)
    assert need_of(result) == result.results["needed_preload"]
    assert chance_of(result) == result.results["chance_below_need"]
    other = assess(case=cases, size=[{"bolts": [1, 13], "bolting": {"thread": "M56x4"}}])
    assert other.results["needed_preload"] == pytest.approx(by_hand)
    assert "needed_preload" not in assess(load={"holds_pressure": False}, case=None).results


def test_play_walks_through_every_step() -> None:
    result = assess(tightening__tools_together=2)
    frames = play(result)
    assert len(frames) == 5 * 12
    assert frames[0].bolts == (1, 13)
    assert frames[0].pass_name == "snug"
    assert frames[-1].pass_name == "round 1"
    assert frames[-1].preloads == pytest.approx(result.results["predicted"])
    assert min(frames[20].shares) == pytest.approx(frames[20].shares[frames[20].lowest - 1])
    assert sum(load > 0 for load in frames[0].preloads) == 2
    assert play(assess(member__flange_thickness=None)) == ()


def test_in_a_half_done_pass_the_spread_is_of_the_bolts_it_has_pulled() -> None:
    """Bolts still at 30 % beside others at 60 % are no interaction: the spread would be most of 1 by the pass alone."""
    frames = play(assess(tightening__tools_together=2))
    for frame in frames:
        pass_ = [each for each in frames if each.pass_name == frame.pass_name]
        pulled = {bolt for each in pass_[: frame.step] for bolt in each.bolts}
        own = [frame.shares[bolt - 1] for bolt in (pulled if not frame.pass_name.startswith("round") else range(1, 25))]
        assert frame.alike == len(own)
        assert frame.spread == pytest.approx((max(own) - min(own)) / (sum(own) / len(own)))
        assert frame.spread < 0.4  # a pass up from half of its level would be 0.7 and more
    assert frames[-1].spread == pytest.approx(assess(tightening__tools_together=2).results["predicted_spread"])


def test_ways_side_by_side() -> None:
    plan = joint(tightening__tools_together=2, member__contact_stiffness="60 MPa/mm")
    result = assess(tightening__tools_together=2, member__contact_stiffness="60 MPa/mm")
    rows = {row.name: row for row in compare_ways(plan, result)}
    assert rows["as planned"].spread == pytest.approx(result.results["predicted_spread"])
    assert rows["no round"].spread > rows["as planned"].spread > rows["2 rounds"].spread
    assert rows["cross, 1 tool"].minutes > rows["as planned"].minutes
    assert "cross" not in rows
    assert {"quadrant", "round"} <= set(rows)
    assert compare_ways(plan, assess(member__flange_thickness=None)) == ()
    assert usual_ways(plan, assess(member__flange_thickness=None)) == ()
    line = {way.order for way in usual_ways(joint(**SPLIT), assess(**SPLIT))}
    assert "centre-out" in line
    assert "cross" not in line


def test_the_ways_are_every_number_of_rounds_and_other_numbers_of_tools() -> None:
    """From no round to the most allowed, without the planned number; 1, 2 and 4 tools without the planned number."""
    changes = {"tightening__finish_rounds": 1, "tightening__max_rounds": 3}
    names = [way.name for way in usual_ways(joint(**changes), assess(**changes))]
    assert names[:4] == ["as planned", "no round", "2 rounds", "3 rounds"]
    assert names[4:] == ["quadrant", "round", "cross, 2 tools", "cross, 4 tools"]
    many = {"layout__bolts": 48, "layout__diameter": "2400 mm", "member__outer_diameter": "2600 mm"}
    many |= {"member__inner_diameter": "2250 mm"}
    assert "clumps of four" in {way.name for way in usual_ways(joint(**many), assess(**many))}
    assert "clumps of four" not in names
