"""The public API: its three worked examples print what the page says, and it costs nothing to those who only start."""

from __future__ import annotations

import contextlib
import datetime as dt
import io
import json
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

import splitline
from splitline.cli import main
from splitline.plan.problem import PlanFileError
from tests.docs.reading import DOCS, FENCE, ROOT
from tests.docs.rooms import page

DEMO = ROOT / "plans" / "k410-closeup.toml"
DAY = dt.date(2026, 12, 1)
BLOCKS = FENCE.findall((DOCS / "api.md").read_text("utf-8"))
EXAMPLES = [(code, BLOCKS[n + 1]) for n, (kind, code) in enumerate(BLOCKS) if kind == "python"]


def head_of(plan: splitline.PlanFile, library: splitline.Library | None = None) -> Mapping[str, Any]:
    """Results of the demo's first joint."""
    found = splitline.assess(plan, DAY, library=library).find("joint", "discharge-head")
    assert found is not None
    return found.results


@pytest.mark.parametrize("number", range(3))
def test_a_worked_example_prints_what_the_page_says(number: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    code, (kind, printed) = EXAMPLES[number]
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        exec(compile(code, f"docs/api.md, example {number + 1}", "exec"), {"__name__": "__main__"})
    assert kind == "text"
    assert out.getvalue() == printed


def test_the_page_names_every_public_name_and_every_file_of_the_physics() -> None:
    text = (DOCS / "api.md").read_text("utf-8")
    assert page(text) == text, "run: python -m tests.docs.rooms"
    told = {"load", "loads", "assess", "as_json", "si", "show", "SplitlineError", "PlanError", "InputError"}
    assert told <= set(splitline.__all__)
    for name in told:
        assert name in text
    for name in splitline.__all__:
        assert getattr(splitline, name) is not None


def test_it_is_what_the_command_prints(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(DEMO), "--json", "--date", DAY.isoformat()]) == 0
    printed = json.loads(capsys.readouterr().out)
    assert json.loads(json.dumps(splitline.as_json(splitline.assess(splitline.load(DEMO), DAY)))) == printed


def test_a_site_library_beside_the_plan_is_read_with_it(tmp_path: Path) -> None:
    (tmp_path / "plan.toml").write_text(DEMO.read_text("utf-8"), "utf-8")
    (tmp_path / "library.toml").write_text(
        '[[lubricants]]\nname = "molybdenum disulfide paste"\nthread_low = 0.14\nthread = 0.16\nthread_high = 0.18\n'
        "bearing_low = 0.14\nbearing = 0.16\nbearing_high = 0.18\n"
        'source = "site tests"\n',
        "utf-8",
    )
    plain, own = splitline.load(DEMO), splitline.load(tmp_path / "plan.toml")
    torques = [head_of(each)["torque"] for each in (plain, own)]
    assert torques[1] > 1.2 * torques[0]  # the site's own friction, for the same preload
    assert head_of(plain, own.library)["torque"] == torques[1]
    (tmp_path / "library.toml").write_text('[[lubricant]]\nname = "X"\n', "utf-8")
    with pytest.raises(splitline.SplitlineError, match=r"library\.toml"):
        splitline.load(tmp_path / "plan.toml")


def test_a_plan_with_mistakes_is_refused_whole_and_each_is_named(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(DEMO.read_text("utf-8").replace('"375 MPa"', '"375 mm"').replace('"62 mm"', '"62 bar"'), "utf-8")
    with pytest.raises(PlanFileError, match="2 mistakes") as caught:
        splitline.load(path)
    assert len(caught.value.problems) == 2
    assert all(problem.line for problem in caught.value.problems)
    with pytest.raises(splitline.PlanError, match="there is no such file"):
        splitline.load(tmp_path / "none.toml")


def test_a_variant_changes_only_itself() -> None:
    plan = splitline.load(DEMO)
    where = ("joint", "discharge-head", "target", "bolt_stress")
    other = plan.replaced(where, "300 MPa")
    assert (plan.get(*where), other.get(*where)) == ("375 MPa", "300 MPa")
    forces = [head_of(each)["preload"] for each in (plan, other)]
    assert forces[1] / forces[0] == pytest.approx(300 / 375)
    assert (
        plan.replaced(("joint", "discharge-head", "case", "design", "pressure"), "131 bar").get(
            "joint", 0, "case", 0, "pressure"
        )
        == "131 bar"
    )
    with pytest.raises(splitline.PlanError, match="there are: discharge-head"):
        plan.get("joint", "head", "target")
    with pytest.raises(splitline.PlanError, match="nothing is given"):
        plan.get("joint", "discharge-head", "target", "preload")
    with pytest.raises(splitline.PlanError, match="there are: discharge-head"):
        plan.item("joint", "head")
    with pytest.raises(TypeError, match=r"splitline\.load"):
        splitline.assess("plans/k410-closeup.toml")  # type: ignore[arg-type]


def loaded_by(code: str) -> set[str]:
    run = subprocess.run(
        [sys.executable, "-c", f"import sys; {code}; print('\\n'.join(sys.modules))"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return set(run.stdout.split())


def test_importing_the_package_imports_nothing_else() -> None:
    mine = {name for name in loaded_by("import splitline") if name.startswith("splitline.")}
    assert mine == set()
    first = loaded_by("import splitline; from splitline.assess import result; assert callable(splitline.assess)")
    assert "splitline.assess.result" in first  # whoever was there first, the name can be called
    assert "splitline.assess.assessment" not in first
