"""What holds a part besides friction: keys, a shoulder, a nut. SI floats."""

from __future__ import annotations

import math

from splitline.errors import InputError
from splitline.fitting.guard import positive

SHEAR = 0.577  # of the yield strength, distortion energy (Shigley §7-7)
TWO_KEYS = 1.5  # keys that two keys count for: they never bear alike (common practice, no published source)
NUT_FACTOR = 0.2  # torque over preload and diameter, dry to lightly oiled (Shigley §8-8)


def counted_keys(keys: int) -> float:
    """How many keys 1 or 2 keys count for."""
    if keys not in (1, 2):
        raise InputError(f"one or two keys are computed here, not {keys}")
    return 1.0 if keys == 1 else TWO_KEYS


def key_shear_torque(diameter: float, width: float, length: float, strength: float, keys: int = 1) -> float:
    """Torque (N·m) at which the key yields in shear: 0.577 S_y w L d/2. Sizes m, yield strength Pa. Shigley §7-7."""
    area = positive(width, "key width") * positive(length, "key length")
    return counted_keys(keys) * SHEAR * positive(strength, "yield strength") * area * positive(diameter, "diameter") / 2


def key_bearing_torque(diameter: float, height: float, length: float, strength: float, keys: int = 1) -> float:
    """Torque (N·m) at which the side of a key or keyway yields: S_y h/2 L d/2, half the height in each part. Shigley §7-7."""
    area = positive(height, "key height") / 2 * positive(length, "key length")
    return counted_keys(keys) * positive(strength, "yield strength") * area * positive(diameter, "diameter") / 2


def shoulder_pressure(force: float, shoulder: float, diameter: float) -> float:
    """Pressure (Pa) on a shoulder's ring between fit and shoulder diameter (m): F/(π/4 (D_s² − d²))."""
    if shoulder <= diameter:
        raise InputError("the shoulder must be wider than the fit")
    return force / (math.pi / 4 * (shoulder**2 - positive(diameter, "diameter") ** 2))


def nut_force(torque: float, thread: float, factor: float = NUT_FACTOR) -> float:
    """Clamp (N) of a shaft nut: T/(K d); K 0.2 unless given. Shigley §8-8."""
    return positive(torque, "nut torque") / (positive(factor, "nut factor") * positive(thread, "nut thread"))
