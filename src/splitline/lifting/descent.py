"""Downhill on V(h): Newton with the sign of every curvature made positive, so that it ends in a valley and not on a saddle."""

from __future__ import annotations

import numpy as np

from splitline.lifting.poses import Array, Poses, curvature, energy, imbalance, pull, shape

STEP = 0.25  # longest step, share of the mean leg length
FLOOR = 1e-3  # least curvature taken, share of weight/depth: keeps neutral directions from running away


def descend(poses: Poses, start: Array, tolerance: float = 1e-6, rounds: int = 60) -> Array:
    """Hook places (B, 3) of least V reached downhill from ``start`` (B, 3); stops at |gradient| < tolerance x weight."""
    hook = start.copy()
    open_poses = np.arange(poses.count)
    for _ in range(rounds):
        if open_poses.size == 0:
            break
        part = poses if open_poses.size == poses.count else poses.take(open_poses)
        moved, slope = _step(part, hook[open_poses])
        hook[open_poses] = moved
        open_poses = open_poses[slope > tolerance * part.weight]
    return hook


def _step(poses: Poses, hook: Array) -> tuple[Array, Array]:
    at = shape(poses, hook)
    tension = pull(poses, at)
    slope = imbalance(poses, at, tension)
    values, vectors = np.linalg.eigh(curvature(poses, at, tension))
    floor = FLOOR * poses.weight / np.maximum(at.depth, 0.05 * poses.scale)
    bent = np.maximum(np.abs(values), floor[:, None])
    onto = np.einsum("bij,bi->bj", vectors, slope) / bent
    step = -np.einsum("bij,bj->bi", vectors, onto)
    length = np.sqrt(np.einsum("bi,bi->b", step, step))
    step *= np.minimum(1.0, STEP * poses.scale / np.maximum(length, 1e-300))[:, None]
    steep = np.sqrt(np.einsum("bi,bi->b", slope, slope))
    return _backtrack(poses, hook, step, slope, energy(poses, at)), steep


def _backtrack(poses: Poses, hook: Array, step: Array, slope: Array, here: Array) -> Array:
    gain = np.einsum("bi,bi->b", slope, step)
    rounding = 1e-14 * (np.abs(here) + poses.weight * poses.scale)
    share = np.ones(poses.count)
    for _ in range(8):
        worse = energy(poses, shape(poses, hook + share[:, None] * step)) > here + 1e-4 * share * gain + rounding
        if not worse.any():
            break
        share[worse] *= 0.35
    return np.asarray(hook + share[:, None] * step)
