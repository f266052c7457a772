"""Joints the tests of this room share: a head cover of usual proportions and its softer relatives."""

from __future__ import annotations

import numpy as np

from splitline.tightening.contact import Flange, ring_compliance
from splitline.tightening.interaction import joint_matrix
from splitline.tightening.joint import Elastic
from splitline.tightening.order import circle_steps
from splitline.tightening.passes import Pass, planned_passes

BOLT = 2e11 * 1.5e-3 / 0.3  # N/m: M48 of about 0.3 m
TARGET = 5e5  # N


def flange(softer: float = 1.0) -> Flange:
    """Steel flange 150 × 150 mm on metal faces, or on something ``softer`` times softer."""
    return Flange(2e11, 0.15, 0.15, 2e11 / 0.268 / softer)


def cover(bolts: int = 24, softer: float = 1.0, radius: float = 0.59) -> Elastic:
    return Elastic(joint_matrix(ring_compliance(flange(softer), radius, bolts), np.full(bolts, BOLT)))


def usual(bolts: int = 24, tools: int = 1, rounds: int = 1, order: str = "cross") -> tuple[Pass, ...]:
    return planned_passes(circle_steps(order, bolts, tools), np.full(bolts, TARGET), (0.3, 0.6, 1.0), 0.1, rounds)
