"""A fresh plan prints complete; gauge pressures are printed in the unit of the gauge."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.assess.gauge import gauge_said, gauge_unit
from splitline.cli import main
from splitline.plan.read import read_text

TEMPLATES = ("barrel-head-cover", "split-casing", "single-lift")


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_fresh_plan_lacks_only_what_the_site_knows(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan, sheet = tmp_path / "plan.toml", tmp_path / "plan.md"
    assert main(["new", name, str(plan)]) == 0
    assert main(["sheet", str(plan), "-o", str(sheet)]) == 0
    assert "missing" not in sheet.read_text("utf-8")
    capsys.readouterr()
    main(["check", str(plan)])
    said = capsys.readouterr().out
    assert "▲ 0 fails  ○ 0 missing" in said
    assert main(["kit", str(plan)]) == 0
    assert "missing" not in capsys.readouterr().out


def test_a_gauge_in_bar_is_printed_in_bar_with_psi_beside(tmp_path: Path) -> None:
    plan, sheet = tmp_path / "plan.toml", tmp_path / "plan.md"
    main(["new", "barrel-head-cover", str(plan)])
    main(["sheet", str(plan), "-o", str(sheet), "--units", "US"])
    text = sheet.read_text("utf-8")
    assert "**300 bar (4351 psi)**" in text
    assert "\\_\\_\\_\\_ bar" in text  # the blanks too
    assert "\\_\\_\\_\\_ psi" not in text
    main(["sheet", str(plan), "-o", str(sheet), "--force"])
    assert "psi" not in sheet.read_text("utf-8").partition("Why this torque")[0]


def test_the_unit_of_the_gauge_is_told_from_its_step_or_its_chart() -> None:
    def unit(tightening: str) -> str | None:
        text = (
            'format = 1\n[plan]\ntitle = "t"\n[[joint]]\nid = "a"\ntitle = "A"\n[joint.tightening]\nmethod = "hydraulic wrench"\n'
            + tightening
        )
        return gauge_unit(read_text(text, Path("a.toml")).plan.joints[0])

    assert unit('gauge_step = "100 psi"\n') == "psi"
    assert unit('gauge_step = "5 bar"\n') == "bar"
    assert unit('[[joint.tightening.tool]]\nname = "W"\npressure_max = "10000 psi"\n') == "psi"
    assert unit("") is None
    assert gauge_said(290e5, None, "SI") == "290 bar"
