"""Newton on the hook's place and the taut tensions together: exact equilibrium however stiff the legs are.

F1 = sum T u - W up = 0 and, for each leg that carries, F2 = l - L - T L/EA = 0; a leg that would push is let go and
one that is overlong is taken up again. Tensions stay unknowns of their own, so stiffness never multiplies rounding.
"""

from __future__ import annotations

import numpy as np

from splitline.lifting.poses import Array, Poses, Shape, geometric, imbalance, pull, shape

GOOD = 1e-12  # residual looked for, share of the weight and of the leg length
DRIFT = 1e-12  # damping of directions without stiffness, share of weight/depth; it changes the path, not the solution


def polish(poses: Poses, start: Array, rounds: int = 25, all_taut: bool = False) -> tuple[Array, Array, Array]:
    """Exact hook places (B, 3), tensions (B, n) and residuals (B,) (share of the weight) from a near start (B, 3).

    all_taut: begin with every leg carrying, whatever the start says.
    """
    hook = start.copy()
    at = shape(poses, hook)
    tension = pull(poses, at)
    limit = 2.0 * poses.weight[:, None]
    tension = np.minimum(tension, np.maximum(limit, 0.0) * 50.0)
    best_hook, best_tension = hook.copy(), tension.copy()
    best = np.full(poses.count, np.inf)
    open_poses = np.arange(poses.count)
    taut = np.ones_like(tension, dtype=bool) if all_taut else tension > 0.0
    for _ in range(rounds):
        part = poses.take(open_poses)
        at = shape(part, hook[open_poses])
        value = residual(part, at, tension[open_poses])
        better = value < best[open_poses]
        where = open_poses[better]
        best[where], best_hook[where], best_tension[where] = value[better], hook[where], tension[where]
        keep = value > GOOD
        open_poses = open_poses[keep]
        if open_poses.size == 0:
            break
        part = poses.take(open_poses)
        at = shape(part, hook[open_poses])
        step, change = _newton(part, at, tension[open_poses], taut[open_poses])
        hook[open_poses] += step
        fresh = np.where(taut[open_poses], tension[open_poses] + change, 0.0)
        long = shape(part, hook[open_poses]).distance > part.lengths * (1.0 + 1e-13)
        taut[open_poses] = np.where(taut[open_poses], fresh > 0.0, long)
        tension[open_poses] = np.maximum(fresh, 0.0)
    return best_hook, best_tension, best


def residual(poses: Poses, at: Shape, tension: Array) -> Array:
    """Worst of: force out of balance / weight; a leg's length error / its length, in the sense its state allows, (B,)."""
    force = np.sqrt((imbalance(poses, at, tension) ** 2).sum(axis=1)) / poses.weight
    gap = (at.distance - poses.lengths) / poses.lengths - tension / poses.rigidity
    wrong = np.where(tension > 0.0, np.abs(gap), np.maximum(gap, 0.0))
    return np.asarray(np.maximum(force, wrong.max(axis=1)))


def _newton(poses: Poses, at: Shape, tension: Array, taut: np.ndarray) -> tuple[Array, Array]:
    count, legs = tension.shape
    system = np.zeros((count, 3 + legs, 3 + legs))
    system[:, :3, :3] = geometric(poses, at, tension)
    system[:, (0, 1, 2), (0, 1, 2)] += (DRIFT * poses.weight / at.depth)[:, None]
    coupled = at.along * taut[:, :, None]
    system[:, 3:, :3] = coupled
    system[:, :3, 3:] = coupled.transpose(0, 2, 1)
    give = poses.lengths / poses.rigidity
    each = np.arange(3, 3 + legs)
    system[:, each, each] = np.where(taut, -give, 1.0)
    aim = np.zeros((count, 3 + legs))
    aim[:, :3] = -imbalance(poses, at, tension)
    aim[:, 3:] = np.where(taut, -(at.distance - poses.lengths - tension * give), 0.0)
    # tensions are scaled to the weight, lengths to the leg, or the mixed system would be badly conditioned
    force, size = poses.weight, poses.scale
    row = np.concatenate([np.repeat((1.0 / force)[:, None], 3, 1), np.repeat((1.0 / size)[:, None], legs, 1)], axis=1)
    column = np.concatenate([np.repeat(size[:, None], 3, 1), np.repeat(force[:, None], legs, 1)], axis=1)
    row[:, 3:] = np.where(taut, row[:, 3:], (1.0 / force)[:, None])
    scaled = system * row[:, :, None] * column[:, None, :]
    answer = _solve(scaled, aim * row) * column
    step = answer[:, :3]
    length = np.sqrt((step * step).sum(axis=1))
    short = np.minimum(1.0, 0.1 * size / np.maximum(length, 1e-300))[:, None]
    return step * short, answer[:, 3:] * short


def _solve(matrix: Array, aim: Array) -> Array:
    try:
        answer = np.linalg.solve(matrix, aim[:, :, None])[:, :, 0]
        if np.isfinite(answer).all():
            return np.asarray(answer)
    except np.linalg.LinAlgError:
        pass
    return np.asarray(np.einsum("bij,bj->bi", np.linalg.pinv(matrix, rcond=1e-13), aim))
