"""The compliance of ring and beam against an independent frame solver (PyNiteFEA), refined until it converges."""

from __future__ import annotations

import numpy as np
import pytest

from splitline.tightening.contact import Flange, beam_compliance, gapped_beam, ring_compliance
from splitline.tightening.interaction import interaction, joint_matrix
from tests.tightening.frames import beam_descent, beam_lifting, ring_descent

RINGS = [
    Flange(2e11, 0.15, 0.12, 2e11 / 0.25 / 20),
    Flange(2e11, 0.09, 0.20, 2e11 / 0.25),  # tall and narrow: little torsion
    Flange(2e11, 0.22, 0.06, 2e11 / 0.25 / 100),  # wide and flat on something soft: the face rocks
]


@pytest.mark.parametrize("flange", RINGS)
def test_ring_converges_to_the_series(flange: Flange) -> None:
    series = ring_compliance(flange, 0.6, 12)[:, 0]
    coarse, fine = (np.abs(ring_descent(flange, 0.6, 12, per) - series).max() / series[0] for per in (4, 8))
    assert fine < 2e-3
    assert fine < 0.4 * coarse  # second order


def test_interaction_of_a_ring_with_its_bolts_as_springs() -> None:
    """Nut 1 turned down by e presses with k_b·e; bolt i then carries k_b·(e_i − descent)."""
    flange, bolt = RINGS[0], 1.0e9
    descent = ring_descent(flange, 0.6, 12, 8, bolt)
    load = bolt * (np.where(np.arange(12) == 0, 1 / bolt, 0.0) - descent)
    ours = interaction(joint_matrix(ring_compliance(flange, 0.6, 12), np.full(12, bolt)))[:, 0]
    assert load / load[0] == pytest.approx(ours, abs=4e-4)


@pytest.mark.parametrize("length", [0.4, 1.5])
def test_beam_converges_to_the_closed_form(length: float) -> None:
    flange = Flange(2e11, 0.13, 0.15, 2e11 / 0.25 / 10)
    found, ours = [], np.empty(0)
    for parts in (40, 80):
        loaded = parts // 8
        found.append(beam_descent(flange, length, parts, loaded)[:: parts // 40])
        ours = beam_compliance(flange, np.linspace(0, length, 41), 0.0, length)[:, 5]
    coarse, fine = (np.abs(one - ours).max() / ours.max() for one in found)
    assert fine < 0.3 * coarse  # second order
    assert (4 * found[1] - found[0]) / 3 == pytest.approx(ours, abs=2e-5 * ours.max())  # Richardson


def test_faces_that_only_push(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two end bolts pulled one after the other: the middle lifts off its face, and the first bolt changes with it."""
    monkeypatch.setattr("splitline.tightening.contact.SUPPORT", 1e-6)  # nothing else carries the beam
    flange = Flange(2e11, 0.13, 0.05, 2e11 / 0.25)
    bolts, length, bolt, load = [0.11, 0.52, 0.91], 1.2, 2e8, 1e5
    joint = gapped_beam(flange, bolts, 0.0, length, np.full(3, bolt), np.zeros(3), 8)
    state = joint.start()
    state.pull((0,), np.array([load]))
    first = float(state.position[0])
    alone = beam_lifting(flange, length, bolts, 24, {}, {0: load})
    assert first - load / bolt == pytest.approx(alone[0], rel=2e-3)
    state.pull((2,), np.array([load]))
    both = beam_lifting(flange, length, bolts, 24, {0: bolt}, {0: bolt * first, 2: load})
    assert state.force[0] == pytest.approx(bolt * (first - both[0]), rel=1e-5)
    assert state.position[2] - load / bolt == pytest.approx(both[2], rel=2e-3)
    assert (state.force[3:] == 0).any()  # some of the face is open
