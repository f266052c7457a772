"""Beam and load as two rigid bodies hung in one another: poses, spring forces and curvature, batched.

World frame: hook at the origin, z up. Body 0 is the beam, body 1 the load; a body's place is its centre of gravity, its
turn a rotation matrix. A leg joins an upper point (hook or beam) to a lower point (beam or load).
Increments per body: (dx, rho w) with w a small world rotation and rho a length that makes both alike.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.lifting.poses import TINY, Array

SIZE = 12  # unknowns of two bodies


@dataclass(frozen=True, slots=True)
class Chain:
    """B states of one hung pair. S legs: the first ``uppers`` run hook to beam, the rest beam to load."""

    upper: Array  # (B, S, 3) point in the beam's frame (unused for the first legs, which start at the hook)
    lower: Array  # (B, S, 3) point in the frame of the body below, from its centre of gravity
    uppers: int
    lengths: Array  # (B, S) m
    rigidity: Array  # (B, S) N
    weights: Array  # (B, 2) beam, load, N
    rho: float  # m

    @property
    def count(self) -> int:
        return int(self.weights.shape[0])

    def take(self, which: NDArray[np.int_]) -> Chain:
        return Chain(
            self.upper[which], self.lower[which], self.uppers, self.lengths[which],
            self.rigidity[which], self.weights[which], self.rho,
        )  # fmt: skip

    def softened(self, ratio: float) -> Chain:
        soft = np.minimum(self.rigidity, ratio * self.weights.sum(axis=1)[:, None])
        return Chain(self.upper, self.lower, self.uppers, self.lengths, soft, self.weights, self.rho)


@dataclass(frozen=True, slots=True)
class Pair:
    """Places and turns of both bodies."""

    place: Array  # (B, 2, 3)
    turn: Array  # (B, 2, 3, 3)

    def take(self, which: NDArray[np.int_]) -> Pair:
        return Pair(self.place[which], self.turn[which])


@dataclass(frozen=True, slots=True)
class Reach:
    """Legs as they stand."""

    along: Array  # (B, S, 3) unit vectors from the lower to the upper end
    distance: Array  # (B, S)
    upper_arm: Array  # (B, S, 3) upper point from the beam's centre, world; 0 at the hook
    lower_arm: Array  # (B, S, 3) lower point from its body's centre, world


def reach(chain: Chain, pair: Pair) -> Reach:
    """Leg vectors of a state."""
    first = chain.uppers
    lower_arm = np.empty_like(chain.lower)
    lower_arm[:, :first] = np.einsum("bij,bsj->bsi", pair.turn[:, 0], chain.lower[:, :first])
    lower_arm[:, first:] = np.einsum("bij,bsj->bsi", pair.turn[:, 1], chain.lower[:, first:])
    upper_arm = np.zeros_like(chain.upper)
    upper_arm[:, first:] = np.einsum("bij,bsj->bsi", pair.turn[:, 0], chain.upper[:, first:])
    ends = -lower_arm
    ends[:, :first] -= pair.place[:, 0, None]
    ends[:, first:] += pair.place[:, 0, None] + upper_arm[:, first:] - pair.place[:, 1, None]
    distance = np.maximum(np.sqrt((ends * ends).sum(axis=2)), TINY)
    return Reach(ends / distance[:, :, None], distance, upper_arm, lower_arm)


def pull(chain: Chain, at: Reach) -> Array:
    """Tensions from stretch, (B, S), N."""
    return chain.rigidity / chain.lengths * np.maximum(at.distance - chain.lengths, 0.0)


def energy(chain: Chain, pair: Pair, at: Reach) -> Array:
    """Stored in the legs plus heights, (B,), J."""
    slack = np.maximum(at.distance - chain.lengths, 0.0)
    height = (chain.weights * pair.place[:, :, 2]).sum(axis=1)
    return np.asarray((0.5 * chain.rigidity / chain.lengths * slack * slack).sum(axis=1) + height)


def lever(chain: Chain, at: Reach) -> Array:
    """d(distance)/d(increments) of each leg, (B, S, 12)."""
    rows = np.zeros((*at.distance.shape, SIZE))
    first = chain.uppers
    about_low = np.cross(at.lower_arm, at.along) / chain.rho
    about_up = np.cross(at.upper_arm, at.along) / chain.rho
    rows[:, :first, 0:3] = -at.along[:, :first]
    rows[:, :first, 3:6] = -about_low[:, :first]
    rows[:, first:, 0:3] = at.along[:, first:]
    rows[:, first:, 3:6] = about_up[:, first:]
    rows[:, first:, 6:9] = -at.along[:, first:]
    rows[:, first:, 9:12] = -about_low[:, first:]
    return rows


def imbalance(chain: Chain, rows: Array, tension: Array) -> Array:
    """Gradient of the energy, (B, 12)."""
    slope = np.einsum("bs,bsk->bk", tension, rows)
    slope[:, 2] += chain.weights[:, 0]
    slope[:, 8] += chain.weights[:, 1]
    return np.asarray(slope)


def geometric(chain: Chain, at: Reach, rows: Array, tension: Array) -> Array:
    """Curvature from tensions, (B, 12, 12): change of direction of each leg and the arms' second-order turn."""
    spread = np.zeros((*at.distance.shape, 3, SIZE))
    first, unit = chain.uppers, np.eye(3)
    low, up = _cross_matrix(at.lower_arm) / chain.rho, _cross_matrix(at.upper_arm) / chain.rho
    spread[:, :first, :, 0:3] = -unit
    spread[:, :first, :, 3:6] = low[:, :first]
    spread[:, first:, :, 0:3] = unit
    spread[:, first:, :, 3:6] = -up[:, first:]
    spread[:, first:, :, 6:9] = -unit
    spread[:, first:, :, 9:12] = low[:, first:]
    weight = tension / at.distance
    count, legs = tension.shape
    flat = (spread * weight[:, :, None, None]).reshape(count, legs * 3, SIZE)
    matrix = flat.transpose(0, 2, 1) @ spread.reshape(count, legs * 3, SIZE)
    matrix -= np.einsum("bs,bsk,bsl->bkl", weight, rows, rows)
    force = tension[:, :, None] * at.along / chain.rho**2
    matrix[:, 3:6, 3:6] += _second(at.lower_arm[:, :first], -force[:, :first]) + _second(
        at.upper_arm[:, first:], force[:, first:]
    )
    matrix[:, 9:12, 9:12] += _second(at.lower_arm[:, first:], -force[:, first:])
    return np.asarray(matrix)


def curvature(chain: Chain, at: Reach, rows: Array, tension: Array) -> Array:
    """Full Hessian with the legs that carry and the yaw pin, (B, 12, 12)."""
    stiff = np.where(tension > 0.0, chain.rigidity / chain.lengths, 0.0)
    matrix = geometric(chain, at, rows, tension) + np.einsum("bs,bsk,bsl->bkl", stiff, rows, rows)
    matrix[:, 5, 5] += pin(chain)
    return np.asarray(matrix)


def pin(chain: Chain) -> Array:
    """Stiffness holding the beam's yaw: turning everything about the vertical changes nothing, so any value will do."""
    return np.asarray(chain.weights.sum(axis=1) / chain.rho)


def moved(chain: Chain, pair: Pair, step: Array) -> Pair:
    """State after increments (B, 12), rotations by the exact exponential."""
    parts = step.reshape(-1, 2, 6)
    angle = parts[:, :, 3:] / chain.rho
    return Pair(pair.place + parts[:, :, :3], _rotation(angle) @ pair.turn)


def _rotation(vector: Array) -> Array:
    size = np.sqrt((vector * vector).sum(axis=-1))[..., None, None]
    safe = np.maximum(size, 1e-12)
    cross = _cross_matrix(vector)
    return np.asarray(np.eye(3) + np.sin(safe) / safe * cross + (1.0 - np.cos(safe)) / (safe * safe) * (cross @ cross))


def _cross_matrix(vector: Array) -> Array:
    matrix = np.zeros((*vector.shape, 3))
    x, y, z = vector[..., 0], vector[..., 1], vector[..., 2]
    matrix[..., 0, 1], matrix[..., 0, 2], matrix[..., 1, 2] = -z, y, -x
    matrix[..., 1, 0], matrix[..., 2, 0], matrix[..., 2, 1] = z, -y, x
    return matrix


def _second(arm: Array, force: Array) -> Array:
    """Hessian of sum f . (w x (w x r))/2 over w: (r f' + f r')/2 - (f . r) I, (B, 3, 3)."""
    both = np.einsum("bsi,bsj->bij", arm, force)
    trace = np.einsum("bii->b", both)
    return np.asarray(0.5 * (both + both.transpose(0, 2, 1)) - trace[:, None, None] * np.eye(3))
