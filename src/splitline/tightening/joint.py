"""The joint as tightening sees it: elastic (from compliance), with a gap at the faces, or by measured coefficients."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.tightening.gains import ElasticGains, Gains, MeasuredGains
from splitline.tightening.interaction import interaction
from splitline.tightening.unilateral import Unilateral

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Elastic:
    """Faces in contact: M = I/k_b + C, m/N (see ``interaction.joint_matrix``)."""

    matrix: Array

    @property
    def bolts(self) -> int:
        """Number of bolts."""
        return len(self.matrix)

    @property
    def interaction(self) -> Array:
        """A[i, j], all tight."""
        return interaction(self.matrix)

    def gains(self, first_order: Sequence[int]) -> Gains:
        """Answers to steps for bolts first tightened in this order (from 0)."""
        return ElasticGains(self.matrix, first_order)

    def one_sided(self, tightened: Sequence[int], force: Array) -> Unilateral:
        """The state with these bolts tightened and carrying ``force``, from which bolts may go slack."""
        part = np.zeros(self.bolts, dtype=bool)
        part[list(tightened)] = True
        held = np.where(part, force, 0.0)
        return Unilateral(self.matrix, np.where(part, self.matrix @ held, 0.0), part, held)


@dataclass(frozen=True, slots=True, eq=False)
class Gapped:
    """Faces not yet in contact: bolts first, then points of the face with their gaps (see ``contact``).

    ``matrix``: M over bolts and points, m/N; ``gap`` of each point, m; ``closed``: M over the bolts once all points touch.
    """

    matrix: Array
    gap: Array
    closed: Array

    @property
    def bolts(self) -> int:
        """Number of bolts."""
        return len(self.closed)

    @property
    def interaction(self) -> Array:
        """A[i, j], all tight and all faces closed."""
        return interaction(self.closed)

    def start(self) -> Unilateral:
        """The untouched joint: no bolt tightened, every point at its gap."""
        points = np.arange(len(self.matrix)) >= self.bolts
        position = np.zeros(len(self.matrix))
        position[points] = -self.gap
        return Unilateral(self.matrix, position, points, np.zeros(len(self.matrix)))


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """Measured coefficients A[i, j], applied unchanged between bolts already tightened."""

    coefficients: Array

    @property
    def bolts(self) -> int:
        """Number of bolts."""
        return len(self.coefficients)

    @property
    def interaction(self) -> Array:
        """A[i, j] as given."""
        return self.coefficients

    def gains(self, first_order: Sequence[int]) -> Gains:
        """Answers to steps for bolts first tightened in this order (from 0)."""
        return MeasuredGains(self.coefficients, first_order)


Joint = Elastic | Gapped | Measured
