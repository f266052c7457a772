"""Values of the shipped tables that fits and insertions take, and tool rules of the same close-up."""

from __future__ import annotations

import pytest

from splitline.bolting.tools import chart, hand_tool_range, pressure_for_torque
from splitline.fitting.taper import CONTACT_LEAST, DROP_MOST
from splitline.library.store import Library

LIBRARY = Library.load()


def test_constants_of_steel_keyless_hubs() -> None:
    # ANSI/AGMA 9103-C17 (abstract): steel hub on solid steel shaft
    row = LIBRARY.find("materials", "steel for keyless hubs")
    assert row["modulus"] == pytest.approx(207000e6, rel=1e-12)
    assert row["density"] == 7830
    assert row["expansion"] == pytest.approx(1.14e-5, rel=1e-12)


def test_taper_gauge_contact() -> None:
    # ANSI/AGMA 9003-B08 clause 9.1 (excerpt): thin blue, rock-free; 80 % contact, drop within 25 % of the length
    assert CONTACT_LEAST * 100 == 80
    assert DROP_MOST * 100 == 25


@pytest.mark.parametrize(
    ("pair", "friction"),
    [
        # Handbook of Surface Improvement and Modification, Table 11.1, p. 167
        ("steel on PTFE, static", 0.18),
        ("steel on PTFE, moving", 0.16),
        ("steel on steel dry, static", 0.31),
        ("steel on steel dry, moving", 0.23),
        # a published friction table
        ("steel on steel, lubricated", 0.1),
        ("steel on grey iron, lubricated", 0.1),
        # UNECE CTU Code, appendix 2
        ("rough metal on rough metal", 0.4),
        ("painted on painted metal, rough", 0.3),
        ("smooth metal on smooth metal", 0.2),
    ],
)
def test_friction_of_pushed_loads(pair: str, friction: float) -> None:
    assert LIBRARY.find("sliding_friction", pair)["friction"] == pytest.approx(friction, rel=1e-9)


def test_torque_wrench_range() -> None:
    # ISO 6789: from 20 % of the range; a 1000 N·m wrench does not do 150 N·m
    low, high = hand_tool_range(1000.0)
    assert (low, high) == (200.0, 1000.0)
    assert not low <= 150.0 <= high


def test_hydraulic_wrench_pressure() -> None:
    # linear chart T = k p: 10 000 N·m at 700 bar, 6200 N·m wanted
    tool = chart([(0.0, 0.0), (700e5, 10000.0)])
    assert pressure_for_torque(tool, 6200.0) == pytest.approx(434.0e5, rel=1e-4)
