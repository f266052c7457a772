"""A clearance on the fitter's screen: what Done waits for, what follows from a reading at once, and what its value is called."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.assess.clearance_reading import POSITION_FOUND, POSITION_SET, PROBE_ENDS, SHIM_FITTED, SIDES
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.task import Task
from tests.record.helpers import Ticking
from tests.ui.test_work_demo import desk_at


def desk(folder: Path, clearance: str) -> Desk:
    text = f'format = 1\n[plan]\ntitle = "Rotor"\n[[clearance]]\nid = "c"\ntitle = "Clearance"\n{clearance}\n'
    (folder / "one.toml").write_text(f'{text}[[step]]\nid = "on"\ntext = "Read it"\nclearance = "c"\n', "utf-8")
    at = Desk(folder / "one.toml", Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    return at


def give(at: Desk, what: str, value: float) -> Task:
    task = at.task()[1]
    limits = next(each for each in task.readings if each.what == what)
    acts.read(at, task, limits, value, f"{value * 1e3:.3f} mm")
    return at.task()[1]


def figures(task: Task) -> dict[str, str]:
    return {each.caption: f"{each.text} {each.unit}" for each in task.figures}


def test_the_float_is_done_when_the_rotor_was_set_and_read(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "total-float"')
    now = give(at, "measured", 8e-3)
    assert not now.answers[0].ready
    assert any(POSITION_SET in text for text, _ in now.lines)
    assert figures(now)["from the active stop"] == "3.84 mm"  # 0.48 of 8 mm
    assert give(at, POSITION_SET, 3.85e-3).answers[0].ready


def test_a_rotor_set_elsewhere_stops_the_work(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "total-float"')
    give(at, "measured", 8e-3)
    assert give(at, POSITION_SET, 3.9e-3).kind == "stopped"


def test_a_shim_told_is_a_shim_recorded(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "thrust-float"')
    assert any("as found first" in text for text, _ in at.task()[1].lines)
    now = give(at, "as found", 0.48e-3)
    assert figures(now)["shim to fit"] == "6.5 mm"
    now = give(at, "as left", 0.33e-3)  # something was found: now the value is "as left"
    assert not now.answers[0].ready
    assert give(at, SHIM_FITTED, 6.5e-3).answers[0].ready


def test_float_and_place_are_set_at_once_by_shims_of_both_sides(tmp_path: Path) -> None:
    """Found 0.48 at 3.90 from the stop; wanted 0.33 at 4.00 (geometry): 0.10 more behind the active, 0.05 the inactive shoes."""
    at = desk(tmp_path, 'kind = "shim"\nlow = "0.28 mm"\nhigh = "0.38 mm"\nwanted = "0.33 mm"\nside = "active"\n'
                        'wanted_position = "4.00 mm"')  # fmt: skip
    give(at, "as found", 0.48e-3)
    now = give(at, POSITION_FOUND, 3.9e-3)
    assert figures(now)["add, active side"] == "0.1 mm"
    assert figures(now)["add, inactive side"] == "0.05 mm"
    assert give(at, "as left", 0.33e-3).answers[0].ready


def test_a_probe_is_read_at_mid_float_and_at_both_stops(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "axial-probe"')
    first = at.task()[1]
    assert figures(first)["set at mid-float"] == "-9.84 V"
    for what, volts in zip(PROBE_ENDS, (-8.54, -11.14), strict=True):
        task = at.task()[1]
        acts.read(at, task, next(e for e in task.readings if e.what == what), volts, f"{volts} V")
        assert not at.task()[1].answers[0].ready
    task = at.task()[1]
    acts.read(at, task, task.readings[-1], -9.84, "-9.84 V")
    now = at.task()[1]
    assert now.answers[0].ready
    assert figures(now)["float by the probe"] == "0.33 mm"  # 2.6 V over 7.87 V/mm (arithmetic)


@pytest.mark.parametrize(("right", "kind"), [(0.16e-3, "plain"), (0.21e-3, "stopped"), (0.13e-3, "stopped")])
def test_feelers_of_both_sides_are_judged_by_their_sum(tmp_path: Path, right: float, kind: str) -> None:
    """0.30 to 0.35 mm on diameter: 0.15 on the left leaves 0.15 to 0.20 on the right."""
    at = desk(tmp_path, 'kind = "measure"\nlow = "0.30 mm"\nhigh = "0.35 mm"\ndiametral = true\nsides = true')
    now = give(at, SIDES[0], 0.15e-3)
    assert not now.answers[0].ready
    now = give(at, SIDES[1], right)
    assert now.kind == kind
    checks = at.assessment.find("clearance", "c").checks  # type: ignore[union-attr]
    assert ("fails" in {check.verdict for check in checks}) is (kind == "stopped")
    if kind == "plain":
        assert now.answers[0].ready


def test_nothing_found_nothing_left(tmp_path: Path) -> None:
    at = desk(tmp_path, 'kind = "measure"\nlow = "0.30 mm"\nhigh = "0.35 mm"')
    assert [each.what for each in at.task()[1].readings] == ["as found", "measured"]
    assert [each.what for each in give(at, "as found", 0.4e-3).readings] == ["as found", "as left"]
    planned = desk(tmp_path, 'kind = "measure"\nlow = "0.30 mm"\nhigh = "0.35 mm"\nas_found = "0.36 mm"')
    assert planned.task()[1].readings[-1].what == "as left"


def test_a_place_far_from_its_face_is_told_to_its_last_hundredth(tmp_path: Path) -> None:
    """Four figures of 412.35 mm would be 412.4: a size is told as the instrument reads it."""
    at = desk(tmp_path, 'kind = "measure"\nlow = "412.30 mm"\nhigh = "412.354 mm"')
    assert figures(at.task()[1]) == {"at least": "412.3 mm", "at most": "412.354 mm"}
    assert any("412.354 mm" in check.note for check in at.assessment.find("clearance", "c").checks)  # type: ignore[union-attr]
