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
    which, part = np.arange(poses.count), poses  # those still open
    taut = np.ones_like(tension, dtype=bool) if all_taut else tension > 0.0
    for _ in range(rounds):
        force = imbalance(part, at, tension)
        value = _left(part, at, tension, force)
        better = value < best[which]
        where = which[better]
        best[where], best_hook[where], best_tension[where] = value[better], hook[better], tension[better]
        keep = value > GOOD
        if not keep.any():
            break
        if not keep.all():
            which, part, at = which[keep], part.take(keep), at.take(keep)
            hook, tension, taut, force = hook[keep], tension[keep], taut[keep], force[keep]
        step, change = _newton(part, at, tension, taut, force)
        hook = hook + step
        at = shape(part, hook)
        fresh = np.where(taut, tension + change, 0.0)
        taut = np.where(taut, fresh > 0.0, at.distance > part.lengths * (1.0 + 1e-13))
        tension = np.maximum(fresh, 0.0)
    return best_hook, best_tension, best


def residual(poses: Poses, at: Shape, tension: Array) -> Array:
    """Worst of: force out of balance / weight; a leg's length error / its length, in the sense its state allows, (B,)."""
    return _left(poses, at, tension, imbalance(poses, at, tension))


def _left(poses: Poses, at: Shape, tension: Array, force: Array) -> Array:
    out = np.sqrt((force * force).sum(axis=1)) / poses.weight
    gap = (at.distance - poses.lengths) / poses.lengths - tension / poses.rigidity
    wrong = np.where(tension > 0.0, np.abs(gap), np.maximum(gap, 0.0))
    return np.asarray(np.maximum(out, wrong.max(axis=1)))


def _newton(poses: Poses, at: Shape, tension: Array, taut: np.ndarray, force: Array) -> tuple[Array, Array]:
    """Step of the hook (B, 3) and change of the tensions (B, n).

    Tensions are counted in weights and lengths in mean leg lengths, or the mixed system would be badly conditioned.
    """
    count, legs = tension.shape
    weight, size = poses.weight, poses.scale
    give = poses.lengths / poses.rigidity
    system = np.zeros((count, 3 + legs, 3 + legs))
    system[:, :3, :3] = geometric(poses, at, tension) * (size / weight)[:, None, None]
    system[:, (0, 1, 2), (0, 1, 2)] += (DRIFT * size / at.depth)[:, None]
    coupled = at.along * taut[:, :, None]
    system[:, 3:, :3] = coupled
    system[:, :3, 3:] = coupled.transpose(0, 2, 1)
    each = np.arange(3, 3 + legs)
    system[:, each, each] = np.where(taut, -give * (weight / size)[:, None], 1.0)
    aim = np.empty((count, 3 + legs))
    aim[:, :3] = -force / weight[:, None]
    aim[:, 3:] = np.where(taut, (poses.lengths + tension * give - at.distance) / size[:, None], 0.0)
    answer = _solve(system, aim)
    step = answer[:, :3] * size[:, None]
    length = np.sqrt((step * step).sum(axis=1))
    short = np.minimum(1.0, 0.1 * size / np.maximum(length, 1e-300))[:, None]
    return step * short, answer[:, 3:] * weight[:, None] * short


def _solve(matrix: Array, aim: Array) -> Array:
    try:
        answer = np.linalg.solve(matrix, aim[:, :, None])[:, :, 0]
        if np.isfinite(answer).all():
            return np.asarray(answer)
    except np.linalg.LinAlgError:
        pass
    return np.asarray(np.einsum("bij,bj->bi", np.linalg.pinv(matrix, rcond=1e-13), aim))
