"""What a stretch reading is judged by: each size of bolts by its own limits, on screen, on paper and in the kit list alike."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.assess.accepted import accepted_of
from splitline.assess.tightening_list import order_list
from splitline.plan.check import check_item
from splitline.plan.names import Names
from splitline.report.blocks import Table, text_of
from splitline.report.sheets.common import Options
from splitline.report.sheets.joint_log import log_blocks
from splitline.report.sheets.joint_sizes import size_table
from splitline.units import show
from tests.assess.joint_plans import LIBRARY, assess, check, joint, raw_joint

OTHER: dict[str, Any] = {"bolts": [1, 13], "bolting": {"thread": "M36x4", "shank_diameter": "32 mm", "hole_diameter": "39 mm",
                                       "bearing_diameter": "55 mm"}}  # fmt: skip


def mixed(**more: Any) -> dict[str, Any]:
    return {"size": [OTHER], "target__bolt_stress": None, "target__yield_fraction": 0.5, **more}


def test_limits_in_millimetres_never_leave_their_size() -> None:
    given_limits = mixed(acceptance={"stretch_low": "0.30 mm", "stretch_high": "0.60 mm"})
    result, plan = assess(**given_limits), joint(**given_limits)
    assert accepted_of(plan, result, 2).stretch == pytest.approx((0.30e-3, 0.60e-3))
    other = accepted_of(plan, result, 13)
    assert other.stretch != pytest.approx((0.30e-3, 0.60e-3))
    assert other.stretch == (None, None)
    assert not other.by_plan
    own = mixed(acceptance={"stretch_low": "0.30 mm"}, size=[{**OTHER, "acceptance": {
        "stretch_low": "0.50 mm", "stretch_high": "0.52 mm", "torque_low": "900 N*m"}}])  # fmt: skip
    result, plan = assess(**own), joint(**own)
    assert accepted_of(plan, result, 1).stretch == pytest.approx((0.50e-3, 0.52e-3))
    assert accepted_of(plan, result, 1).torque == (900.0, None)
    assert check(result, "stretch_low", "(bolts 1, 13)").limit == pytest.approx(0.50e-3) or check(
        result, "stretch_low", "(bolts 1, 13)"
    ).demand == pytest.approx(0.50e-3)


def test_the_scatter_of_a_wrench_is_no_acceptance() -> None:
    """± 25 % takes nearly every reading there is: on-site, until the plan says what is taken. A stretch method has a narrow one."""
    asked: dict[str, Any] = {"acceptance": {"measured_bolts": [1, 2]}}
    wrench = assess(**asked)
    told = check(wrench, "stretch_low")
    assert (told.verdict, told.needs) == ("on-site", ("acceptance.stretch_share",))
    assert "no acceptance given" in told.note
    assert accepted_of(joint(**asked), wrench, 1).stretch == (None, None)
    pulled = assess(**asked, tightening={"method": "stretch", "scatter": 0.05, "relaxation": 0.05})
    assert pulled.results["stretch_low"] == pytest.approx(0.95 * pulled.results["stretch"])
    assert not [c for c in pulled.checks if c.key == "stretch_low"]
    given = assess(acceptance={"measured_bolts": [1, 2], "stretch_share": 0.1})
    assert given.results["stretch_high"] == pytest.approx(1.1 * given.results["stretch"])


@settings(max_examples=25, deadline=None)
@given(
    st.one_of(
        st.floats(0.02, 0.3).map(lambda share: {"stretch_share": share}),
        st.floats(0.005, 0.1).map(lambda mm: {"stretch_tolerance": f"{mm:.4f} mm"}),
    ),
    st.sampled_from(("SI", "US")),
)
def test_a_tolerance_gives_every_size_its_own_limits_everywhere(tolerance: dict[str, Any], system: Any) -> None:
    """By hand: target stretch of the size, less and more the tolerance; sheet front and the table of readings print it."""
    told = mixed(acceptance={**tolerance, "measured_bolts": [1, 2]})
    result, plan = assess(**told), joint(**told)
    listed = order_list(plan, result)
    blocks = [*size_table(plan, result, listed, system), *log_blocks(plan, result, listed, Options(system=system))]
    sizes, readings = (
        next(b for b in blocks if isinstance(b, Table) and b.title.startswith(title))
        for title in ("Each size", "Stretch")
    )
    for at, (bolt, results) in enumerate(((2, result.results), (1, result.sizes[0].results))):
        stretch = results["stretch"]
        share = tolerance.get("stretch_share")
        within = share * stretch if share else float(str(tolerance["stretch_tolerance"]).split()[0]) * 1e-3
        accepted = accepted_of(plan, result, bolt)
        assert accepted.by_plan
        assert accepted.stretch == pytest.approx((stretch - within, stretch + within))
        half = accepted.at(0.5).stretch
        assert half == pytest.approx((0.5 * (stretch - within), 0.5 * (stretch + within)))
        low, high = (show(end, "length", system) for end in accepted.stretch if end is not None)
        printed = text_of(sizes.rows[at][sizes.head.index("Accepted stretch")])
        assert printed == (low if low == high else f"{low} to {high}")
        row = next(row for row in readings.rows if text_of(row[0]) == str(bolt))
        assert text_of(row[1]) == printed


def test_two_tolerances_are_refused() -> None:
    raw = raw_joint(acceptance={"stretch_share": 0.1, "stretch_tolerance": "0.03 mm"})
    assert "not both" in str(check_item("joint", raw, Names.of(LIBRARY)).said)


def test_limits_of_the_plan_hold_before_anything_is_assessed() -> None:
    plan = joint(acceptance={"stretch_low": "0.36 mm", "stretch_high": "0.46 mm", "gap_max": "0.05 mm"})
    told = accepted_of(plan, None, 5)
    assert told.stretch == pytest.approx((0.36e-3, 0.46e-3))
    assert told.gap == pytest.approx(0.05e-3)
    unknown = assess(acceptance={"stretch_low": "0.36 mm"}, bolting__clamp_length=None)
    assert accepted_of(joint(acceptance={"stretch_low": "0.36 mm"}), unknown, 5).stretch == (
        pytest.approx(0.36e-3),
        None,
    )
