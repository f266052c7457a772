"""docs/method.md: its tables are the registry's, and the figures it names are those of the code."""

from __future__ import annotations

import math
import re

import pytest

from splitline.assess import joint_accept, joint_cases, joint_scatter, joint_wrench, tightening
from splitline.assess.keys import OF, registry
from splitline.assess.result import verdict_of
from splitline.bolting import stiffness as st
from splitline.bolting import thread as th
from splitline.bolting import tools as tl
from splitline.bolting import torque as tq
from splitline.fitting import heating, insertion, mounting, probes
from splitline.fitting.clearance import lift_factor
from splitline.library.materials import material
from splitline.library.scatter import scatter
from splitline.library.store import Library
from splitline.lifting import crane, mass
from splitline.lifting.hang import hang
from splitline.plan import passes
from tests.docs.formulas import PAGE, page

TEXT = PAGE.read_text("utf-8")
FLAT = " ".join(TEXT.split())
LIBRARY = Library.load()
INCH = 0.0254


def test_the_tables_are_the_registry_s() -> None:
    assert page(TEXT) == TEXT, "run: python -m tests.docs.formulas"


def test_every_key_stands_in_the_tables() -> None:
    listed = set(re.findall(r"`([a-z_0-9]+)`", TEXT.split("<!-- results -->")[1]))
    for of in OF:
        assert set(registry(of)) <= listed, of


@pytest.mark.parametrize(
    ("said", "value", "in_code"),
    [
        ("usage 0.90", 0.90, max(u / 1000 for u in range(1001) if verdict_of(u / 1000) == "ok")),
        ("1.2; 1.1 for a case of", 1.2, joint_cases.SEPARATION),
        ("0.05 metal faces, 0.10 gasketed", 0.05, joint_scatter.RELAXATION),
        ("more than 10 % apart is `near`", 0.10, joint_accept.MAKER_APART),
        ("from 20 % of their range", 0.20, tl.HAND_SHARE),
        ("at one pressure within 2 %", 0.02, joint_wrench.UNEQUAL),
        ("torque 25 % lubricated", 0.25, scatter(LIBRARY, "torque wrench").value),
        ("35 % dry, tensioner", 0.35, scatter(LIBRARY, "torque wrench", dry=True).value),
        ("tensioner 15 %, stretch 5 %", 0.05, scatter(LIBRARY, "stretch").value),
        ("turn and heat 15 %", 0.15, scatter(LIBRARY, "heat").value),
        ("half of the variance common", 0.5, tightening.COMMON),
        ("20,000 trials with a fixed seed", 20_000, tightening.TRIALS),
        ("Snug 10 %, then", 0.1, passes.SNUG),
        ("weighed 1.03", 1.03, mass.MASS_FACTOR["weighed"]),
        ("calculated or drawing 1.10", 1.10, mass.MASS_FACTOR["drawing"]),
        ("keeps 150 mm over", 0.150, crane.CLEAR),
        ("1.0 × least to 1.6 × greatest", 1.6, mounting.EXPANSION_HIGH),
        ("gap 0.001 d", 0.001, heating.HANDLING_GAP_SHARE),
        ("stop 230 °C", 273.15 + 230, heating.HUB_LIMIT_LOW_ALLOY),
        ("120 °C near seals", 273.15 + 120, heating.HUB_LIMIT_NEAR_SEALS),
        ("STOP at 1.3 times", 1.3, insertion.STOP_FACTOR),
        ("a jump of 25 %", 0.25, insertion.STOP_JUMP),
        ("7.87 V/mm", 7874.0, probes.SENSITIVITY),
        ("1.118 for 5", 1.118, lift_factor(5, False)),
        ("(260 (VDI 1986)".strip("("), 260e6, material(LIBRARY, "ASTM A352 LCB").limiting_pressure_1986),
        ("490 MPa (VDI 2003)", 490e6, material(LIBRARY, "ASTM A352 LCB").limiting_pressure),
    ],
)  # fmt: skip
def test_a_figure_of_the_page_is_that_of_the_code(said: str, value: float, in_code: float) -> None:
    assert said in FLAT or said == "usage 0.90"
    assert value == pytest.approx(in_code, rel=1e-3)


def test_how_far_the_choices_are_apart() -> None:
    small, large = (th.unified(d * INCH, n) for d, n in ((0.75, 10), (3.0, 8)))
    assert "1.1 % apart at 3/4-10, 0.3 % at 3-8" in FLAT
    assert th.stress_area_iso_form(small) / small.stress_area - 1 == pytest.approx(0.011, abs=5e-4)
    assert th.stress_area_iso_form(large) / large.stress_area - 1 == pytest.approx(0.003, abs=5e-4)
    free, cut = ([st.Layer(0.268, 205e9, sleeve)] for sleeve in (10.0, 0.13))
    assert "62 % more stiffness for a long free cone, 8 % where the sleeve cuts it off" in FLAT
    for layers, more in ((free, 0.62), (cut, 0.08)):
        by_30, by_45 = (st.member_stiffness(layers, 0.074, 0.052, False, math.radians(a)) for a in (30, 45))
        assert by_45 / by_30 - 1 == pytest.approx(more, abs=0.005)
    assert "10 % more pressure at ν = 0.3" in FLAT
    assert pytest.approx(0.10, abs=0.005) == 1 / (1 - 0.3**2) - 1


def test_plastic_against_elastic_torsion() -> None:
    assert "the elastic form makes τ a third larger and σ_v some 6 %" in FLAT
    thread = th.metric(0.048, 0.003)
    section = th.least_section(thread)
    axial = 345e6
    twist = tq.torsion_stress(axial * section.area * tq.thread_torque_factor(thread, 0.12), section)
    plastic, elastic = tq.combined_stress(axial, twist), tq.combined_stress(axial, 4 / 3 * twist)
    assert elastic / plastic - 1 == pytest.approx(0.06, abs=0.01)


def test_what_a_short_leg_does_to_four() -> None:
    assert "a fault as large as a leg's own stretch already gives 1.25; four times that" in FLAT
    lugs = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.0), (1.5, -1.0, 0.0)]

    def hung(first: float) -> tuple[float, ...]:
        return hang(lugs, (first, 3.0, 3.0, 3.0), (20e6,) * 4, (0.0, 0.0, -0.6), 120e3).tensions

    even = hung(3.0)[0]
    fault = even * 3.0 / 20e6
    assert max(hung(3.0 - fault)) / even == pytest.approx(1.25, rel=0.01)
    assert sum(tension > 0.02 * even for tension in hung(3.0 - 4 * fault)) == 2


def test_the_page_of_what_is_assumed_is_in_step_with_the_declarations() -> None:
    from tests.docs import assumed

    text = assumed.PAGE.read_text("utf-8")
    assert assumed.page(text) == text, "run: python -m tests.docs.refresh"
    told = dict(assumed.declared())
    assert "safe" in told["joint.load.introduction"].errs
    assert len(told) > 40
