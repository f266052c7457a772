"""A plan of four other fits walked step by step at the desk: each way of mounting comes to its end, no act lacks its number."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.task import Limits, Task
from tests.record.helpers import Ticking
from tests.ui.test_work_demo import middle

STEEL = "\n".join(
    f'{part}_{key} = "{text}"'
    for part in ("hub", "shaft")
    for key, text in (
        ("modulus", "207 GPa"),
        ("density", "7830 kg/m^3"),
        ("expansion", "11.4e-6 1/K"),
        ("yield", "700 MPa"),
    )
)
SIZES = (
    f'shaft_diameter = "100 mm"\nhub_outer = "180 mm"\nlength = "120 mm"\nfriction = 0.12\nspeed = "0 rpm"\n{STEEL}\n'
)
FITS = {
    "sleeve": 'mounting = "heat"\ninterference = "0.10 mm"\nmax_temperature = "260 degC"\ncarry = "2 min"\ntorque = "3 kN*m"\n'
    'axial = "0 kN"\nheater = "induction"\n',
    "keyed": 'mounting = "press"\ninterference = "0.05 mm"\nlocates = true\n',
    "straight": 'mounting = "oil"\ninterference = "0.10 mm"\nmax_expansion_pressure = "2000 bar"\nmax_pump_pressure = "1500 bar"\n'
    'torque = "3 kN*m"\naxial = "0 kN"\nram_area = "5000 mm^2"\n',
    "taper": 'mounting = "oil"\ntaper = "1:20"\ninterference = "0.10 mm"\nadvance_tolerance = "0.2 mm"\n'
    'max_expansion_pressure = "2000 bar"\nstop_dimension = "38 mm"\nstop_tolerance = "0.1 mm"\ntorque = "3 kN*m"\naxial = "0 kN"\n',
}
WORDS_ONLY = (
    "Fit the stop",
    "Rehearse",
    "Lubricate",
    "Fit and lock",
    "Check seat",
    "When cold",
    "Release the ram",
    "Measure shaft",
)


def value(limits: Limits, fit: str) -> float:
    if limits.what.startswith("shaft, "):
        return 0.10005 if fit == "keyed" else 0.1001
    known = {"zero, from a fixed face": 0.040, "temperature of both parts": 293.15}
    return 0.1 if limits.what.startswith("bore, ") else known.get(limits.what, middle(limits))


@pytest.mark.parametrize("fit", list(FITS))
def test_each_step_has_its_number_and_the_fit_comes_to_its_end(tmp_path: Path, fit: str) -> None:
    text = f'format = 1\n[plan]\ntitle = "Four fits"\n[[fit]]\nid = "{fit}"\ntitle = "{fit}"\n{SIZES}{FITS[fit]}'
    (tmp_path / "one.toml").write_text(f'{text}[[step]]\nid = "on"\ntext = "On with it"\nfit = "{fit}"\n', "utf-8")
    clock = Ticking()
    at = Desk(tmp_path / "one.toml", clock)
    at.take_seat("Ines")
    at.stand_plan()
    seen: dict[str, Task] = {}
    for _ in range(120):
        clock.forward(seconds=20)
        _, task = at.task()
        if task.kind != "mounting":
            break
        if task.part not in seen:
            seen[task.part] = task
            said = next(text for text, style in task.lines if style == "strong")
            assert task.figures or said.startswith(WORDS_ONLY), said
        asked = task.readings[0] if any(style == "on-site" for _, style in task.lines) else None
        if task.answers[0].ready:
            acts.sign(at, task, "mounting")
        elif asked is not None:
            assert asked.judge(value(asked, fit)) != "outside", asked
            acts.read(at, task, asked, value(asked, fit), "")
        else:
            clock.forward(minutes=10)
    assert len(seen) >= 4, task.lines
    assert task.kind == "plain", task.lines
    assert task.answers[0].ready


def test_diameters_that_make_a_wrong_interference_stop_the_fit(tmp_path: Path) -> None:
    """Each of eight diameters is judged by nothing alone; what they come to is outside the drawing: no step goes on."""
    text = f'format = 1\n[plan]\ntitle = "Fits"\n[[fit]]\nid = "sleeve"\ntitle = "Sleeve"\n{SIZES}{FITS["sleeve"]}'
    text = text.replace('interference = "0.10 mm"', 'interference_min = "0.08 mm"\ninterference_max = "0.12 mm"')
    (tmp_path / "one.toml").write_text(f'{text}[[step]]\nid = "on"\ntext = "On with it"\nfit = "sleeve"\n', "utf-8")
    at = Desk(tmp_path / "one.toml", Ticking())
    at.take_seat("Ines")
    at.stand_plan()
    for _ in range(8):
        task = at.task()[1]
        asked = task.readings[0]
        shaft = 0.10013 if asked.what.startswith("shaft") else 0.1
        acts.read(at, task, asked, 293.15 if asked.quantity == "temperature" else shaft, "")
    shut = at.task()[1]
    assert shut.middle == "not to be started"
    assert any("Measured diametral interference" in line for line, style in shut.lines if style == "fails")
    with pytest.raises(RecordError):
        acts.sign(at, task, "mounting")
