"""Assembly preloads and torques of VDI 2230 tables: 90 % of yield in combined stress.

The convention of those tables (90 %, d₀ = (d₂ + d₃)/2) lives here; the program's own checks take the yield share asked for.
"""

from __future__ import annotations

import pytest

from splitline.bolting.thread import least_section, metric
from splitline.bolting.torque import Friction, preload_at_combined, thread_torque_factor, torque

MM = 1e-3
STEEL_640, STEEL_660 = (640e6, 940e6, 1100e6), (660e6, 940e6, 1100e6)

# VDI 2230:2001 table as reproduced in a fastener catalogue: hex bolts, ISO 273 medium holes
SEEN = [
    (12, 1.25, 0.12, STEEL_640, 16.6, 13.5, (48, 70.5, 82.5), (90, 133, 155)),
    (16, 1.5, 0.14, STEEL_640, 22.5, 17.5, (85.5, 125.5, 146.9), (244, 359, 420)),
    (20, 1.5, 0.10, STEEL_660, 28.2, 22, (151, 215, 252), (392, 558, 653)),
    (20, 1.5, 0.12, STEEL_660, 28.2, 22, (148, 211, 246), (454, 646, 756)),
    (20, 1.5, 0.14, STEEL_660, 28.2, 22, (144, 206, 241), (511, 728, 852)),
    (24, 2, 0.10, STEEL_660, 33.6, 26, (213, 304, 355), (666, 949, 1110)),
    (24, 2, 0.14, STEEL_660, 33.6, 26, (204, 290, 339), (865, 1232, 1442)),
]
# Derived with the formula that reproduces those tables; the published coarse rows were not seen
DERIVED = [
    (20, 2.5, 0.10, STEEL_660, 28.2, 22, (133.6, 190.3, 222.7), (363.5, 517.7, 605.9)),
    (20, 2.5, 0.12, STEEL_660, 28.2, 22, (130.5, 185.8, 217.5), (415.6, 591.9, 692.6)),
    (24, 3, 0.12, STEEL_660, 33.6, 26, (187.9, 267.6, 313.1), (714.5, 1017.6, 1190.8)),
    (30, 3.5, 0.12, STEEL_660, 42.7, 33, (300.0, 427.2, 499.9), (1428.0, 2033.9, 2380.0)),
    (36, 4, 0.12, STEEL_660, 51.1, 39, (438.1, 624.0, 730.2), (2483.1, 3536.6, 4138.5)),
]


@pytest.mark.parametrize(("d", "pitch", "mu", "yields", "bearing", "hole", "loads", "torques"), [*SEEN, *DERIVED])
def test_preload_and_torque(
    d: float,
    pitch: float,
    mu: float,
    yields: tuple[float, ...],
    bearing: float,
    hole: float,
    loads: tuple[float, ...],
    torques: tuple[float, ...],
) -> None:
    thread = metric(d * MM, pitch * MM)
    factor = thread_torque_factor(thread, mu)
    for strength, load, moment in zip(yields, loads, torques, strict=True):
        preload = preload_at_combined(0.9 * strength, least_section(thread), factor)
        assert preload == pytest.approx(load * 1e3, rel=7e-3)
        applied = torque(preload, thread, Friction(mu, mu), bearing * MM, hole * MM)
        assert applied == pytest.approx(moment, rel=7e-3)


def test_stainless() -> None:
    """VDI 2230:2001 table as reproduced in a fastener catalogue, stainless shank bolts M20, μ = 0.10, 90 % of R_p0.2."""
    thread = metric(20 * MM, 2.5 * MM)
    factor = thread_torque_factor(thread, 0.10)
    for strength, load, moment in ((210e6, 42.5, 115), (450e6, 91, 247), (600e6, 121, 330)):
        preload = preload_at_combined(0.9 * strength, least_section(thread), factor)
        assert preload == pytest.approx(load * 1e3, rel=1.2e-2)
        # bearing face and hole of ISO 4014 / ISO 273 M20 (from memory)
        assert torque(preload, thread, Friction(0.10, 0.10), 28.2 * MM, 22 * MM) == pytest.approx(moment, rel=1.2e-2)
