"""What a leg pulls, nominal and governing: every teller says both by name, and all of them the same."""

from __future__ import annotations

import contextlib
import datetime as dt
import io
import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.assess.assessment import Assessment, assess
from splitline.assess.keys import registry
from splitline.assess.lift_told import greatest_leg
from splitline.assess.result import ItemResult
from splitline.assess.to_json import assessment_json
from splitline.cli import main
from splitline.library.store import Library
from splitline.plan.draft import Draft, Origin
from splitline.plan.names import Names
from splitline.report.blocks import Table, text_of
from splitline.report.kit_lines.lifting import lifting_lines
from splitline.report.sheets.common import Options
from splitline.report.sheets.lift import hung_of, lift_sheet
from splitline.ui.card.facts import FIRST
from splitline.ui.card.overview import _TABLES
from splitline.ui.scenes.lift_views import lift_scene
from splitline.ui.work.tasks_lift import figures
from splitline.units import System, show, split
from tests.assess.lifts import legs, lift

LIBRARY = Library.load()
BEAM = {
    "mass": "300 kg", "capacity": "20 t", "upper": [["-1 m", "0 m", "0 m"], ["1 m", "0 m", "0 m"]],
    "lower": [["-1 m", "0 m", "0 m"], ["1 m", "0 m", "0 m"]], "upper_length": "2 m",
}  # fmt: skip


def assessed(tree: dict[str, Any], system: System) -> tuple[Draft, Assessment, ItemResult]:
    plan = {"format": 1, "plan": {"title": "tellers"}, "lift": [tree]}
    draft = Draft(plan, Origin(tree=plan), Names.of(LIBRARY))
    assert not draft.problems, draft.problems
    found = assess(draft.plan, LIBRARY, dt.date(2026, 11, 25), system=system)
    return draft, found, found.items[0]


@settings(max_examples=25, deadline=None)
@given(
    count=st.sampled_from((2, 3, 4)),
    mass=st.floats(200.0, 20e3),
    off=st.floats(-0.3, 0.3),
    doubt=st.sampled_from((0.0, 0.005, 0.02)),
    margin=st.sampled_from((None, 0.0, 0.1)),
    dynamic=st.sampled_from((1.0, 1.2)),
    beam=st.booleans(),
    system=st.sampled_from(("SI", "US")),
)
def test_every_teller_says_nominal_and_governing_alike(
    count: int, mass: float, off: float, doubt: float, margin: float | None, dynamic: float, beam: bool, system: System
) -> None:
    picks = [(-1.0, -0.6, 0.0), (1.0, -0.6, 0.0), (1.0, 0.7, 0.0), (-1.0, 0.7, 0.0)][:count]
    picks = [(-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)] if count == 2 else picks
    given_legs = legs(picks, [2.0] * count, capacity="10 t", elongation=0.01)
    tree = lift(mass, (off, 0.0, -0.8), given_legs, length_tolerance=doubt, dynamic=dynamic, centre_shift="20 mm")
    tree = {name: value for name, value in tree.items() if name != "mass_margin"}
    tree |= {} if margin is None else {"mass_margin": margin}
    tree |= {"spreader": BEAM} if beam else {}
    draft, assessment, result = assessed(tree, system)
    item = draft.plan.lifts[0]
    assert len(result.legs) == count
    r = json.loads(json.dumps(assessment_json(assessment)))["lifts"][0]["results"]
    assert r["leg_tension"] == [leg.nominal for leg in result.legs]
    if margin is None:
        assert "leg_tension_governing" not in r
        assert all(leg.governing is None for leg in result.legs)
    else:  # what the parts are checked for is the greater of both, and is what is told
        for leg, design, worst in zip(result.legs, r["leg_tension_design"], r["leg_tension_worst"], strict=True):
            assert leg.governing == max(design, worst)
            assert leg.governing >= 0.999 * leg.nominal
            demand = next(c.demand for c in result.checks if c.key == "leg_capacity" and c.leg == leg.number)
            assert demand == leg.governing
        assert r["leg_tension_governing"] == [leg.governing for leg in result.legs]
    screen, paper = lift_scene(item, result, system), hung_of(item, result, system)
    assert screen is not None
    assert paper is not None
    sheet = lift_sheet(item, result, draft.plan, Options(system=system))
    table = next(block for block in sheet.blocks if isinstance(block, Table) and block.title == "Legs")
    named = [text_of(cell) for cell in table.head]
    slings = [line for line in lifting_lines(draft.plan, assessment, system) if "leg" in "".join(line.used_in)]
    for leg, line, drawn, row in zip(result.legs, screen.legs, paper.legs, table.rows, strict=True):
        nominal = f"{show(leg.nominal, 'force', system)} nominal"
        governing = (
            "governing missing" if leg.governing is None else f"{show(leg.governing, 'force', system)} governing"
        )
        for said in (line.said, drawn.said):
            assert nominal in said
            assert governing in said
        assert any(nominal in each.note and governing in each.note for each in slings)
        cells = dict(zip(named, map(text_of, row), strict=True))
        assert cells["Tension nominal"] == show(leg.nominal, "force", system)
        if leg.governing is not None:
            assert cells["Tension governing"] == show(leg.governing, "force", system)
    most = greatest_leg(result.legs)
    assert most is not None
    figure = figures(result, system)[-1]
    value = most.nominal if most.governing is None else most.governing
    assert (figure.text, figure.unit) == split(value, "force", system)
    assert ("governing" in figure.caption, "nominal" in figure.caption) == (True, True)
    column = next(c for kind, _, columns in _TABLES if kind == "lift" for c in columns if c.title == "leg, governing")
    shown = column.of(item, result, system)
    assert shown == ("" if most.governing is None else show(most.governing, "force", system))


def test_the_card_shows_both_by_name() -> None:
    titles = [registry("lift")[key].title for key in FIRST["lift"] if key.startswith("leg_tension")]
    assert titles == ["Leg tension, nominal", "Leg tension, governing"]


def test_the_command_says_both_by_name() -> None:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        main(["lift", "--mass", "4 t", "--legs", "4", "--span", "2 m", "--length", "2.5 m", "--brief"])
    first = next(line for line in out.getvalue().splitlines() if "tension of a leg:" in line)
    assert "kN nominal, " in first
    assert first.endswith("kN governing")
