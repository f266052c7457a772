"""A batch of hung loads: the same legs in many slightly different states, solved together.

Load frame: z up as drawn. B poses, n legs. The hook's place h in the load's frame is the only unknown, because every
tension and the weight pass through the hook: the load hangs with its centre c under it, up = (h - c)/|h - c|.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
TINY = 1e-12  # m, keeps a direction defined where two points coincide


@dataclass(frozen=True, slots=True)
class Poses:
    """B states of one set of legs."""

    picks: Array  # (B, n, 3) pick points, m
    lengths: Array  # (B, n) unstretched lengths, m
    rigidity: Array  # (B, n) EA of each leg, N
    centre: Array  # (B, 3) centre of gravity, m
    weight: Array  # (B,) N

    @property
    def count(self) -> int:
        return int(self.weight.shape[0])

    @property
    def scale(self) -> Array:
        """Mean leg length of each pose, m: the yardstick for steps."""
        return np.asarray(self.lengths.mean(axis=1))

    def take(self, which: NDArray[np.int_] | Mask) -> Poses:
        return Poses(
            self.picks[which], self.lengths[which], self.rigidity[which], self.centre[which], self.weight[which]
        )

    def softened(self, ratio: float) -> Poses:
        """No leg stiffer than ratio x weight."""
        soft = np.minimum(self.rigidity, ratio * self.weight[:, None])
        return Poses(self.picks, self.lengths, soft, self.centre, self.weight)


@dataclass(frozen=True, slots=True)
class Shape:
    """Where the hook stands against the legs and the centre."""

    along: Array  # (B, n, 3) unit vectors from pick to hook
    distance: Array  # (B, n) pick to hook, m
    up: Array  # (B, 3) unit vector from the centre to the hook
    depth: Array  # (B,) centre to hook, m

    def take(self, which: NDArray[np.int_] | Mask) -> Shape:
        return Shape(self.along[which], self.distance[which], self.up[which], self.depth[which])


def shape(poses: Poses, hook: Array) -> Shape:
    """Directions and distances from the hooks (B, 3)."""
    legs = hook[:, None, :] - poses.picks
    distance = np.maximum(np.sqrt(np.einsum("bni,bni->bn", legs, legs)), TINY)
    arm = hook - poses.centre
    depth = np.maximum(np.sqrt(np.einsum("bi,bi->b", arm, arm)), TINY)
    return Shape(legs / distance[:, :, None], distance, arm / depth[:, None], depth)


def pull(poses: Poses, at: Shape) -> Array:
    """Tension of each leg from its stretch, EA (l - L)/L where positive, (B, n), N."""
    return poses.rigidity / poses.lengths * np.maximum(at.distance - poses.lengths, 0.0)


def energy(poses: Poses, at: Shape) -> Array:
    """V(h) = sum 1/2 (EA/L)(l - L)+^2 - W |h - c|, (B,), J."""
    slack = np.maximum(at.distance - poses.lengths, 0.0)
    stored = 0.5 * poses.rigidity / poses.lengths * slack * slack
    return np.asarray(stored.sum(axis=1) - poses.weight * at.depth)


def imbalance(poses: Poses, at: Shape, tension: Array) -> Array:
    """Gradient of V: sum T u - W up, (B, 3), N."""
    return np.asarray(np.einsum("bn,bni->bi", tension, at.along) - poses.weight[:, None] * at.up)


def geometric(poses: Poses, at: Shape, tension: Array) -> Array:
    """Curvature from tensions alone: sum (T/l)(I - u u') - (W/r)(I - up up'), (B, 3, 3), N/m."""
    per_length = tension / at.distance
    fall = poses.weight / at.depth
    turned = _outer(per_length, at.along)
    matrix = fall[:, None, None] * at.up[:, :, None] * at.up[:, None, :] - turned
    diagonal = per_length.sum(axis=1) - fall
    matrix[:, (0, 1, 2), (0, 1, 2)] += diagonal[:, None]
    return np.asarray(matrix)


def _outer(factor: Array, along: Array) -> Array:
    """sum f u u' over the legs, (B, 3, 3)."""
    return np.asarray((along * factor[:, :, None]).transpose(0, 2, 1) @ along)


def curvature(poses: Poses, at: Shape, tension: Array) -> Array:
    """Full Hessian of V with the legs that carry, (B, 3, 3), N/m."""
    stiff = np.where(tension > 0.0, poses.rigidity / poses.lengths, 0.0)
    return np.asarray(geometric(poses, at, tension) + _outer(stiff, at.along))
