"""A lift's statics from its plan entry: nominal, design and worst; level lengths; odd lifts."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest

from splitline.assess.context import Context
from splitline.assess.lift import assess_lift
from splitline.assess.to_json import item_json
from splitline.plan.model import Lift
from tests.assess.lifts import LIBRARY, LUGS, TODAY, assessed, check, legs, lift, verdicts

MASS = 120e3 / 9.80665
CENTRE = (0.0, 0.0, -0.6)
STIFF = {"capacity": "200 kN", "elongation": 0.01}  # EA 20 MN


def test_four_legs_one_short() -> None:
    # independent energy minimisation, EA 20 MN, one leg 0.5 % short: tensions 62.53, 12.52, 62.60, 12.43 kN
    r = assessed(lift(MASS, CENTRE, legs(LUGS, [2.985, 3.0, 3.0, 3.0], **STIFF))).results
    assert [t / 1e3 for t in r["leg_tension"]] == pytest.approx((62.53155, 12.51967, 62.60053, 12.42563), rel=1e-4)
    assert math.degrees(r["tilt"]) == pytest.approx(0.25926, rel=1e-4)
    assert r["hook"] == pytest.approx((0.00754, 0.011289, 2.400218), rel=1e-3, abs=2e-6)


def test_unstretching_legs_by_default() -> None:
    # independent reference: three inextensible slings
    lugs = [(1.4, 0.0, 0.0), (-1.0, 1.1, 0.0), (-0.9, -1.2, 0.0)]
    result = assessed(lift(80e3 / 9.80665, (-0.1, 0.05, -0.5), legs(lugs, [2.8, 3.1, 3.0])))
    assert [t / 1e3 for t in result.results["leg_tension"]] == pytest.approx((33.71686, 31.63939, 26.47491), rel=1e-4)
    assert math.degrees(result.results["tilt"]) == pytest.approx(7.46283, rel=1e-4)
    assert any(d.field == "leg.elongation" for d in result.defaults)


def test_open_lengths_hang_level() -> None:
    given = lift(MASS, (0.3, 0.1, -0.6), legs(LUGS, [None] * 4, **STIFF), hook={"above_picks": "2.4 m"})
    r = assessed(given).results
    assert r["tilt"] == pytest.approx(0.0, abs=1e-6)
    assert r["hook"] == pytest.approx((0.3, 0.1, 2.4), abs=1e-5)
    assert r["leg_length"][0] < r["leg_length"][1]
    at = lift(MASS, (0.3, 0.1, -0.6), legs(LUGS, [None] * 4, **STIFF), hook={"at": ["0.3 m", "0.1 m", "2.4 m"]})
    assert assessed(at).results["leg_length"] == pytest.approx(r["leg_length"])


def test_design_takes_margin_dynamic_and_the_sharing_rule() -> None:
    rope = legs(LUGS, [3.0] * 4, **STIFF)
    plain = assessed(
        lift(MASS, CENTRE, rope, mass_margin=0.1, dynamic=1.1, sharing="all legs", length_tolerance=0.0)
    ).results
    assert plain["leg_tension_design"][0] == pytest.approx(1.21 * 37.493e3, rel=1e-3)
    assert plain["leg_tension_worst"] == pytest.approx(plain["leg_tension_design"], rel=1e-9)
    # two legs said to carry: 74.985 kN at 53.144 degrees (rule of NAVEDTRA 14251), the angle as hung
    two = assessed(lift(MASS, CENTRE, rope, length_tolerance=0.0))
    assert two.results["leg_tension_design"][0] == pytest.approx(74.985e3, rel=1e-4)
    assert any(d.field == "sharing" for d in two.defaults)
    three = assessed(lift(MASS, CENTRE, rope, sharing="three legs", length_tolerance=0.0)).results
    assert three["leg_tension_design"][0] == pytest.approx(74.985e3 * 2 / 3, rel=1e-4)


def test_mass_basis_is_a_factor_and_absent_is_missing() -> None:
    rope = legs(LUGS, [3.0] * 4, **STIFF)
    base = lift(MASS, CENTRE, rope, mass_basis="weighed")
    del base["mass_margin"]
    assert assessed(base).results["mass_factor"] == pytest.approx(1.03)
    del base["mass_basis"]
    result = assessed(base)
    assert verdicts(result)["leg_tension_design"] == "missing"
    assert "leg_tension" in result.results
    assert "leg_tension_design" not in result.results
    assert "hook_load" not in result.results


def test_worst_is_over_lengths_and_centre() -> None:
    result = assessed(lift(MASS, CENTRE, legs(LUGS, [3.0] * 4, **STIFF), centre_shift="25 mm"))
    r = result.results
    assert max(r["leg_tension_worst"]) > 75e3
    assert min(r["leg_tension_least"]) == 0.0
    assert r["tilt_worst"] > r["tilt"]
    assert any("slack" in note for note in result.notes)


def test_composite_centre() -> None:
    given = lift(1.0, CENTRE, legs(LUGS, [3.0] * 4))
    given["part"] = [
        {"mass": "3 t", "at": ["0 m", "0 m", "0 m"]},
        {"mass": "500 kg", "at": ["1 m", "0 m", "0.4 m"], "count": 2},
    ]
    r = assessed(given).results
    assert r["mass"] == pytest.approx(4000)
    assert r["centre"] == pytest.approx((0.25, 0.0, 0.1))
    assert r["weight"] == pytest.approx(4000 * 9.80665)


def test_spreader_two_and_two() -> None:
    # independent reference, nearly rigid slings: uppers 85.435 kN, legs 35.465 kN, bar 58.249 kN
    lugs = [(1.5, 0.8, 0.0), (1.5, -0.8, 0.0), (-1.5, 0.8, 0.0), (-1.5, -0.8, 0.0)]
    rope = legs(lugs, [1.5] * 4, capacity="200 kN", elongation=1e-4)
    for leg, end in zip(rope, (1, 1, 2, 2), strict=True):
        leg["beam_point"] = end
    beam = {
        "mass": f"{5e3 / 9.80665!r} kg",
        "upper": [["1.5 m", "0 m", "0.1 m"], ["-1.5 m", "0 m", "0.1 m"]],
        "lower": [["1.5 m", "0 m", "-0.1 m"], ["-1.5 m", "0 m", "-0.1 m"]],
        "upper_length": "2.2 m", "upper_capacity": "200 kN", "upper_elongation": 1e-4, "compression_capacity": "100 kN",
    }  # fmt: skip
    result = assessed(lift(MASS, CENTRE, rope, spreader=beam, length_tolerance=0.0))
    r = result.results
    assert [t / 1e3 for t in r["leg_tension"]] == pytest.approx((35.46472,) * 4, rel=5e-4)
    assert [t / 1e3 for t in r["upper_tension"]] == pytest.approx((85.43517,) * 2, rel=5e-4)
    assert r["spreader_compression"] / 1e3 == pytest.approx(58.24877, rel=5e-4)
    assert check(result, "spreader_upper").verdict == "ok"
    assert check(result, "spreader_compression").usage == pytest.approx(0.582, abs=0.002)
    del beam["compression_capacity"], beam["upper_length"]
    lacking = assessed(lift(MASS, CENTRE, rope, spreader=beam))
    assert check(lacking, "leg_tension").verdict == "missing"
    for leg in rope:
        del leg["beam_point"]
    beam |= {"upper_length": "2.2 m", "compression_capacity": "100 kN"}
    open_rope = [{k: v for k, v in leg.items() if k != "length"} for leg in rope]
    level = assessed(lift(MASS, (0.1, 0.0, -0.6), open_rope, spreader=beam, hook={"above_picks": "3.1 m"}))
    assert level.results["tilt"] == pytest.approx(0.0, abs=1e-6)
    assert any(d.field == "leg.beam_point" for d in level.defaults)


def said(result: object) -> str:
    return json.dumps(item_json(result), allow_nan=False)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("picks", "lengths", "centre", "key", "verdict"),
    [
        ([(0.0, 0.0, 0.0)], [2.0], (0, 0, -0.5), "stability", "ok"),
        ([(0.0, 0.0, 0.0)], [2.0], (0, 0, 0.5), "stability", "fails"),
        ([(-1.0, 0, 0), (1.0, 0, 0)], [2.0, 2.0], (0, 0, 0), "stability", "near"),
        ([(-1.0, 0, 0), (1.0, 0, 0)], [2.0, 2.0], (0, 0, 0.1), "stability", "fails"),
        ([(-1.0, 0, 0), (0.0, 0, 0), (1.0, 0, 0)], [2.0, 1.7, 2.0], (0, 0, -0.3), "stability", "ok"),
        (LUGS, [3.0] * 4, (0, 0, 1.0), "stability", "near"),
        (LUGS, [3.0] * 4, (0, 0, 3.0), "stability", "fails"),
        (LUGS, [3.0] * 4, (1.9, 0, -0.3), "stability", "near"),
        ([(-3.0, 0, 0), (3.0, 0, 0)], [2.0, 2.0], (0, 0, -1.0), "leg_tension", "fails"),
        (LUGS, [None] * 4, (2.5, 0, -0.3), "leg_tension", "fails"),
    ],
)  # fmt: skip
def test_odd_lifts_get_a_plain_answer(picks, lengths, centre, key, verdict) -> None:  # type: ignore[no-untyped-def]
    result = assessed(
        lift(5000.0, centre, legs(picks, lengths, **STIFF), hook={"above_picks": "2 m"}, centre_shift="10 mm")
    )
    found = check(result, key)
    assert found.verdict == verdict, found.note
    assert found.note
    said(result)


def test_a_shaft_in_two_slings_may_roll() -> None:
    result = assessed(
        lift(1840.0, (0, 0, 0), legs([(-0.8, 0, 0), (0.8, 0, 0)], [2.0, 2.0], **STIFF), centre_shift="20 mm")
    )
    assert check(result, "stability").verdict == "near"
    assert "roll" in check(result, "stability").note
    assert result.results["tilt_worst"] < math.radians(3)


def test_random_lifts_never_break_the_assessment() -> None:
    random = np.random.default_rng(21)
    for _ in range(40):
        count = int(random.integers(1, 6))
        picks = random.uniform(-2, 2, (count, 3)).tolist()
        lengths = [float(v) if random.random() < 0.9 else None for v in random.uniform(0.5, 4, count)]
        given = lift(
            float(random.uniform(100, 30e3)), random.uniform(-1.5, 1.5, 3).tolist(), legs(picks, lengths, **STIFF),
            hook={"above_picks": "2 m"}, centre_shift="20 mm", length_tolerance=0.01,
            spigot={"axis": [0, 1, 0], "clearance": "0.3 mm", "engagement": "60 mm"},
            tail={"kind": "floor", "pick": ["1 m", "0.2 m", "-1 m"]} if random.random() < 0.3 else None,
        )  # fmt: skip
        result = assessed({key: value for key, value in given.items() if value is not None})
        assert '"leg_tension"' in said(result) or check(result, "leg_tension").verdict in ("fails", "missing")


def test_results_balance_by_themselves() -> None:
    """Force and moment from nothing but the numbers that come out: below 1e-9 of the weight."""
    random = np.random.default_rng(33)
    for _ in range(25):
        count = int(random.integers(3, 7))
        turn = np.sort(random.uniform(0, 2 * np.pi, count))
        picks = np.column_stack([1.5 * np.cos(turn), 1.2 * np.sin(turn), random.uniform(-0.2, 0.2, count)])
        centre = [*picks[:, :2].mean(axis=0).tolist(), float(random.uniform(-1.0, 0.2))]
        lengths = (3.0 + random.uniform(-0.03, 0.03, count)).tolist()
        r = assessed(lift(9000.0, centre, legs(picks.tolist(), lengths, **STIFF), length_tolerance=0.0)).results
        out = np.array(r["hook"]) - picks
        pulls = np.array(r["leg_tension"])[:, None] * out / np.linalg.norm(out, axis=1)[:, None]
        up = np.array(r["hook"]) - np.array(r["centre"])
        up /= np.linalg.norm(up)
        assert np.linalg.norm(pulls.sum(axis=0) - r["weight"] * up) < 1e-9 * r["weight"]
        assert np.linalg.norm(np.cross(picks - np.array(r["centre"]), pulls).sum(axis=0)) < 1e-8 * r["weight"]


def test_display_in_us_units_changes_words_only() -> None:
    given = Lift.model_validate(lift(MASS, (0.2, 0.0, -0.6), legs(LUGS, [3.0] * 4, **STIFF)))
    si, us = (assess_lift(given, Context(LIBRARY, TODAY, system=system)) for system in ("SI", "US"))
    assert si.results == us.results
    assert "mm per m" in check(si, "tilt").note
    assert "in per ft" in check(us, "tilt").note


@pytest.mark.parametrize(("off", "told"), [(4.9, False), (5.1, True)])
def test_a_trial_lift_beside_the_planned_centre_is_told_from_five_millimetres(off: float, told: bool) -> None:
    """The reading hangs level: the centre is under the hook, which stands that far beside the planned one (statics)."""
    rope = legs(LUGS, [3.0] * 4, capacity="7 t", elongation=0.01)
    reading = {"source": "sheet 4", "tilt_x": "0 deg", "tilt_y": "0 deg"}
    result = assessed(
        lift(8000.0, (0.0, 0.0, -0.6), rope, hook={"at": [f"{off} mm", "0 m", "2.4 m"]}, reading=[reading])
    )
    assert result.results["trial_miss"] == pytest.approx(off * 1e-3)
    assert [c.verdict for c in result.checks if c.key == "trial_centre"] == (["near"] if told else [])
    doubtful = assessed(
        lift(
            8000.0,
            (0.0, 0.0, -0.6),
            rope,
            hook={"at": [f"{off} mm", "0 m", "2.4 m"]},
            reading=[reading],
            centre_shift="5 mm",
        )
    )
    assert (check(doubtful, "trial_centre").verdict == "fails") == told


def test_a_trial_weight_between_the_margins_is_the_planned_one() -> None:
    """Planned 8000 kg within 10 %: 7200 to 8800 kg is that load, more is too heavy, less stands on something still."""
    rope = legs(LUGS, [3.0] * 4, capacity="7 t", elongation=0.01)

    def verdicts_at(mass: float) -> tuple[str, str]:
        reading = {"source": "sheet 4", "load": f"{mass} kg"}
        result = assessed(lift(8000.0, (0.0, 0.0, -0.6), rope, reading=[reading]) | {"mass_margin": 0.1})
        assert result.results["trial_mass"] == pytest.approx(mass)
        return check(result, "trial_mass").verdict, check(result, "trial_mass_low").verdict

    assert verdicts_at(8810.0)[0] == "fails"
    assert "fails" not in verdicts_at(8790.0)
    assert "fails" not in verdicts_at(7210.0)
    assert verdicts_at(7190.0)[1] == "fails"
