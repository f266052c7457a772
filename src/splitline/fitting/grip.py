"""What a fit can carry before it slips: torque, axial force, both at once, on a cylinder or a taper."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import not_negative, positive
from splitline.fitting.interference import Pair
from splitline.fitting.taper import Taper


def friction_capacity(pair: Pair, pressure: float, friction: float) -> float:
    """Greatest friction force of the fit μ p π d L, N (axial capacity of a cylindrical fit).

    Source: Shigley §7-8 and §16 (press fits); friction between 0 and 1.
    """
    return positive(friction, "friction") * not_negative(pressure, "contact pressure") * pair.area


def torque_capacity(pair: Pair, pressure: float, friction: float) -> float:
    """Slip torque μ p π d² L/2 of friction alone, N·m. On a taper see ``Duty``: the wedge takes a little of it."""
    return friction_capacity(pair, pressure, friction) * pair.diameter / 2


def pull_off_capacity(pair: Pair, pressure: float, friction: float, taper: Taper) -> float:
    """Axial force (N) that pulls a hub off its taper: p π d L (μ − tan half-taper); 0 if it does not hold itself."""
    wedge = friction - taper.tan_half
    return max(0.0, not_negative(pressure, "contact pressure") * pair.area * wedge)


@dataclass(frozen=True, slots=True)
class Duty:
    """What the fit is asked to carry: tangential force at the fit (2T/d) and axial force, N.

    ``axial`` counts positive when it pulls the hub off the taper, negative when it pushes it up.
    """

    tangential: float
    axial: float = 0.0


def needed_normal(duty: Duty, friction: float, taper: Taper, factor: float = 1.0) -> float:
    """Normal force N (N) over the fit so that neither duty slips, friction divided by ``factor``.

    Friction circle on a cone with half-taper θ: (μN/S)² = F_t² + (F_a + N θ)², hence
    N = S/B · (S θ F_a + √(μ² F_a² + B F_t²)), B = μ² − S² θ². A cylinder has θ = 0: N = S √(F_t² + F_a²)/μ.
    A taper always pushes its hub off, so even pure torque needs more than F_t S/μ.
    Source: classification-society formula for keyless propeller cones (from memory).
    Raises InputError when the taper is not self-holding at that factor (S θ ≥ μ).
    """
    theta = taper.tan_half
    slack = positive(friction, "friction") ** 2 - (positive(factor, "factor") * theta) ** 2
    if slack <= 0.0:
        raise InputError(
            f"a half-taper of {theta:.4g} is not self-holding with friction {friction:g} and factor {factor:g}: "
            "a slimmer taper, more friction or a lower factor is needed"
        )
    root = math.sqrt((friction * duty.axial) ** 2 + slack * duty.tangential**2)
    return factor / slack * (factor * theta * duty.axial + root)


def grip_factor(duty: Duty, normal: float, friction: float, taper: Taper) -> float:
    """Factor S by which friction may drop before the fit slips under ``duty`` with normal force ``normal`` (N).

    S = μ N/√(F_t² + (F_a + N θ)²): what is left of ``needed_normal`` solved for S. 0 where nothing presses.
    """
    not_negative(normal, "normal force")
    call = math.hypot(duty.tangential, duty.axial + normal * taper.tan_half)
    if call == 0.0:
        raise InputError("neither torque nor axial force is given: there is no duty to hold against")
    return positive(friction, "friction") * normal / call


def capacity_over_duty(duty: Duty, normal: float, friction: float, taper: Taper) -> float:
    """How often torque and axial force together could be had before the fit slips, friction and wedge as they are.

    The greatest k with (μN)² = (k F_t)² + (k F_a + N θ)²: k = [√(F_a²θ² + (F_t² + F_a²)(μ² − θ²)) − F_a θ] N/(F_t² + F_a²).
    A cylinder gives μN/√(F_t² + F_a²). 0 where nothing presses or the taper does not hold itself (θ ≥ μ).
    ``grip_factor`` asks instead by how much the friction may drop; on a cylinder the two are one.
    """
    not_negative(normal, "normal force")
    theta = taper.tan_half
    square = duty.tangential**2 + duty.axial**2
    if square == 0.0:
        raise InputError("neither torque nor axial force is given: there is no duty to hold against")
    slack = positive(friction, "friction") ** 2 - theta**2
    if slack <= 0.0:
        return 0.0
    root = math.sqrt((duty.axial * theta) ** 2 + square * slack)
    return normal * (root - duty.axial * theta) / square
