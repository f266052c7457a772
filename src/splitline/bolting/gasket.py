"""Gasketed closures after ASME VIII-1 Appendix 2: seating and operating bolt loads, and crushing.

Lengths m, pressures and stresses Pa, loads N over the whole gasket.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.bolting.ranges import finite, larger, not_negative, positive
from splitline.errors import InputError

NARROW = 0.00635  # m (1/4 in): above it the effective width falls below the basic width (2-5, Table 2-5.2)


@dataclass(frozen=True, slots=True)
class Seat:
    """Effective seating of a gasket."""

    width: float  # m, contact width N
    effective_width: float  # m, b
    diameter: float  # m, G, where the gasket reacts


def effective_width(contact_width: float) -> float:
    """b = b₀ = N/2 up to 1/4 in, above it 0.5·√b₀ in inches, m (flat faces, Table 2-5.2 sketch 1a)."""
    basic = 0.5 * positive("gasket width", contact_width)
    return basic if basic <= NARROW else 0.5 * math.sqrt(NARROW * 4.0) * math.sqrt(basic)


def seat(outer: float, inner: float) -> Seat:
    """Seating of a gasket by its contact diameters: G is the mean one, or outer − 2 b when b₀ > 1/4 in."""
    positive("gasket inner diameter", inner)
    larger("the gasket's outer diameter", outer, "its inner diameter", inner)
    width = 0.5 * (outer - inner)
    b = effective_width(width)
    return Seat(width, b, 0.5 * (outer + inner) if 0.5 * width <= NARROW else outer - 2.0 * b)


def seat_at(diameter: float, width: float) -> Seat:
    """Seating of a gasket whose reaction diameter G is known."""
    positive("gasket diameter", diameter)
    if positive("gasket width", width) >= 0.5 * diameter:
        raise InputError("the gasket is wider than its own radius: give the ring's width, not its diameter")
    return Seat(width, effective_width(width), diameter)


def operating_load(gasket: Seat, pressure: float, m: float) -> float:
    """W_m1 = π/4·G²·p + 2 b π G m p, N (2-5(c)(1))."""
    end = 0.25 * math.pi * gasket.diameter**2 * not_negative("pressure", pressure)
    return end + contact_load(gasket, pressure, m)


def contact_load(gasket: Seat, pressure: float, m: float) -> float:
    """H_p = 2 b π G m p, N: what must stay on the gasket in operation."""
    return 2.0 * gasket.effective_width * math.pi * gasket.diameter * not_negative("gasket factor m", m) * pressure


def seating_load(gasket: Seat, y: float) -> float:
    """W_m2 = π b G y, N (2-5(c)(2)); y the seating stress in Pa."""
    return math.pi * gasket.effective_width * gasket.diameter * not_negative("gasket seating stress y", y)


def required_bolt_area(gasket: Seat, pressure: float, m: float, y: float, hot: float, cold: float) -> float:
    """A_m = max(W_m1/S_b, W_m2/S_a), m²: allowable bolt stresses hot and cold in Pa (2-5(d))."""
    running = operating_load(gasket, pressure, m) / positive("bolt stress, hot", hot)
    return max(running, seating_load(gasket, y) / positive("bolt stress, cold", cold))


def design_load(required_area: float, actual_area: float, cold: float) -> float:
    """W = (A_m + A_b)·S_a/2, N: flange design bolt load for seating (2-5(e))."""
    both = positive("required area", required_area) + positive("bolt area", actual_area)
    return 0.5 * both * positive("bolt stress, cold", cold)


def gasket_stress(gasket: Seat, load: float) -> float:
    """Load over the full contact area π·G·N, Pa."""
    return finite("load", load) / (math.pi * gasket.diameter * gasket.width)


def crush_limit(y: float) -> float:
    """2 y, Pa: N_min = A_b S_a/(2 π y G) keeps the gasket under it (Appendix 2, note to Table 2-4; Moss)."""
    return 2.0 * positive("gasket seating stress y", y)
