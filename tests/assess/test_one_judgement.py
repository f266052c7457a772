"""A reading of a clearance is judged alike on the screen, on paper and in ``check``: inside here is not a failure there."""

from __future__ import annotations

import ast
import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import splitline
from splitline.assess.clearance import assess_clearance
from splitline.assess.clearance_reading import reading_of
from splitline.assess.context import Context, Observed
from splitline.library.store import Library
from splitline.plan.model import Clearance
from splitline.record.entry import Measured
from splitline.record.judged import judged
from splitline.ui.paper.items import item_sheet
from splitline.ui.work.task import Limits
from splitline.ui.work.tasks_clearance import clearance_limits
from tests.ui.test_work_demo import desk_at

LIBRARY = Library.load()
PADS = {"kind": "tilting-pad", "pads": 5, "between_pads": False, "diametral": True, "low": "0.14 mm", "high": "0.19 mm"}


def item(**entry: Any) -> Clearance:
    return Clearance.model_validate({"id": "c", "title": "Bearing", "kind": "measure"} | entry)


def verdicts(clearance: Clearance, value: float, name: str = "as_left") -> set[str]:
    seen = Observed({("c", name): value})
    return {c.verdict for c in assess_clearance(clearance, Context(LIBRARY, dt.date(2026, 11, 25), seen)).checks}


def test_a_lift_on_tilting_pads_is_judged_as_a_lift_on_the_screen() -> None:
    # five pads, lift onto a pad: lift over clearance 1.118 (geometry, Nicholas: (1 + 1/cos 36°)/2), so 0.157 to 0.212 mm
    last = clearance_limits(item(**PADS))[-1]
    assert (last.low, last.high) == pytest.approx((0.1565e-3, 0.2124e-3), abs=1e-7)
    assert last.judge(0.15e-3) == "outside"
    assert last.judge(0.20e-3) == "inside"


def test_without_its_geometry_no_lift_is_inside() -> None:
    for name in ("pads", "between_pads", "diametral"):
        last = clearance_limits(item(**{key: value for key, value in PADS.items() if key != name}))[-1]
        assert last.judge(0.15e-3) == "not judged"


def test_a_probe_out_of_its_linear_range_is_outside_on_the_screen_too() -> None:
    only = clearance_limits(item(kind="probe"))[-1]
    assert only.judge(-19.0) == "outside"
    assert only.judge(-1.0) == "outside"
    assert only.judge(-10.0) == "inside"


KINDS = st.sampled_from(("measure", "float-split", "shim", "tilting-pad"))


@settings(deadline=None, max_examples=150)
@given(
    kind=KINDS,
    low=st.integers(-50, 90),
    wide=st.integers(0, 60),
    value=st.integers(-120, 300),
    pads=st.integers(3, 9),
    between=st.booleans(),
    diametral=st.booleans(),
    ends=st.sampled_from(("both", "low", "high")),
)
def test_screen_and_check_never_disagree(
    kind: str, low: int, wide: int, value: int, pads: int, between: bool, diametral: bool, ends: str
) -> None:
    entry: dict[str, Any] = {"kind": kind, "pads": pads, "between_pads": between, "diametral": diametral, "side": "a"}
    if ends != "high":
        entry["low"] = f"{low / 100} mm"
    if ends != "low":
        entry["high"] = f"{(low + wide) / 100} mm"
    clearance = item(**entry)
    shown = clearance_limits(clearance)[-1].judge(value * 1e-5)
    found = verdicts(clearance, value * 1e-5)
    assert (shown == "outside") == ("fails" in found)


@settings(deadline=None, max_examples=80)
@given(low=st.integers(50, 200), wide=st.integers(5, 80), volts=st.integers(-2100, -50))
def test_probe_voltage_is_judged_alike(low: int, wide: int, volts: int) -> None:
    clearance = item(kind="probe", low=f"{low / 100} mm", high=f"{(low + wide) / 100} mm")
    shown = clearance_limits(clearance)[-1].judge(volts / 100)
    assert (shown == "outside") == ("fails" in verdicts(clearance, volts / 100, "reading"))


def test_the_reading_has_a_name_where_it_is_not_the_value() -> None:
    assert reading_of(item(**PADS)).name == "indicator lift"
    assert reading_of(item(low="0.1 mm")).name == ""
    assert judged(0.0, *(None, 1.0), "length") == "inside"


# Comparisons with a low or high end that judge no reading; each says what it is instead.
NOT_A_VERDICT = {
    "assess/clearance_reading.py:side_limits": "what one feeler leaves of the limits of both",
    "assess/fit_heat.py:_cooling": "a rise against the room to heat",
    "record/windows.py:window_state": "a time limit that runs",
    "record/windows.py:said": "a time limit that runs",
    "report/kit_lines/measuring.py:_clearance": "what a feeler set has to reach",
    "report/pictures/band_chart.py:__init__": "the scale of a chart",
    "ui/draw/canvas.py:dot": "the height of a canvas",
    "ui/draw/joint_diagram.py:joint_diagram": "the line of a bolt",
    "ui/draw/passes.py:_bar_row": "the row of a bar",
    "ui/scenes/clearance_views.py:_outside": "on which side, once it is judged outside",
}
READ = re.compile(r"clearance|fit|insertion|step|observed|recorded")  # what of assess deals in readings
ENDS = {"low", "high", "at_least", "at_most"}


def named(node: ast.expr) -> str:
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""


def compared() -> Iterator[str]:
    """Functions outside physics and plan that compare something with a low or high end; two ends of one band are none."""
    source = Path(splitline.__file__).parent
    for path in sorted(source.rglob("*.py")):
        room, *_ = path.relative_to(source).parts
        if room not in ("ui", "report", "record", "commands", "serve") and not (
            room == "assess" and READ.match(path.name)
        ):
            continue
        for function in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef):
                continue
            for node in ast.walk(function):
                if isinstance(node, ast.Compare) and any(
                    isinstance(op, ast.Lt | ast.LtE | ast.Gt | ast.GtE) for op in node.ops
                ):
                    sides = [node.left, *node.comparators]
                    own = [side for side in sides if named(side) in ENDS]
                    if own and not all(isinstance(side, ast.Constant) or side in own for side in sides):
                        yield f"{path.relative_to(source).as_posix()}:{function.name}"


def test_nobody_but_one_function_compares_a_reading_with_its_limits() -> None:
    assert sorted(set(compared()) - set(NOT_A_VERDICT)) == []
    assert sorted(set(NOT_A_VERDICT) - set(compared())) == []


@pytest.mark.parametrize("fit", ["thrust-collar", "coupling-hub"])
def test_screen_paper_and_record_judge_every_reading_of_a_mounting_alike(tmp_path: Path, fit: str) -> None:
    """The paper table, the fitter's pad and what is stored hold the same limits, for every reading of every step."""
    at = desk_at(tmp_path, f'fit = "{fit}"')
    now, task = at.task()
    assert task.step is not None
    rows = {
        (row.part, what): limits for row in item_sheet(now, task.step, "k").rows for what, limits in row.limits.items()
    }
    result = at.assessment.find("fit", fit)
    assert result is not None
    for step in result.fit.mounting:
        for log in step.readable:
            paper = rows[str(step.number), log.title]
            screen = Limits(log.title, log.kind, log.low, log.high)
            for value in (end * by for end in (log.low, log.high) if end for by in (0.5, 0.999, 1.0, 1.001, 2.0)):
                stored = Measured(uid="u", done_by="x", item=fit, what=log.title, value=value, quantity=log.kind, low=log.low,
                                  high=log.high)  # fmt: skip
                assert paper.judge(value) == screen.judge(value) == stored.verdict
