"""Clearances of a close-up: diametral against radial, float split, shims, tilting-pad lift, O-ring squeeze."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import finite, not_negative, ordered, positive

THRUST_FLOAT = (0.25e-3, 0.40e-3)  # m, usual band (0.010 to 0.016 in), common practice
THRUST_FLOAT_WIDE = (0.381e-3, 0.559e-3)  # m, a published form: Bloch & Geitner, vol. 3, fig. 2-16, p. 55
SQUEEZE_STATIC = 0.30  # most linear compression of an O-ring, Mechanical Engineers' Handbook
SQUEEZE_DYNAMIC = 0.16
COMPOUND_SETBACK = 5e-3  # m from the inside edge, Bloch & Geitner, Major Process Equipment, pp. 370, 376
COMPOUND_STRING = (1.6e-3, 3.0e-3)  # m, string diameters, same source
JOINT_FEELER = (0.03e-3, 0.05e-3)  # m; this feeler must not enter after pull-down, common practice


def radial(diametral: float) -> float:
    """Radial clearance (m) of a diametral one: half."""
    return diametral / 2


def diametral(radial_clearance: float) -> float:
    """Diametral clearance (m) of a radial one: twice."""
    return radial_clearance * 2


def from_sides(left: float, right: float) -> float:
    """Diametral clearance (m) of two feeler readings on opposite sides: their sum; one side alone tells nothing."""
    return not_negative(left, "left reading") + not_negative(right, "right reading")


@dataclass(frozen=True, slots=True)
class RotorPosition:
    """Where the rotor is set, m from one stop; ``active`` and ``inactive`` are its ends of the thrust float."""

    target: float
    active: float
    inactive: float


def split_by_ratio(total_float: float, share: float) -> float:
    """Rotor position (m) from a stop: total float × share counted from that stop (0 to 1; not always one half)."""
    if not 0.0 <= share <= 1.0:
        raise InputError(f"the share of the float must be 0 to 1, is {share:g}")
    return positive(total_float, "total float") * share


def split_by_offset(total_float: float, offset: float) -> float:
    """Rotor position (m) from a stop: half the total float plus the drawn offset (positive away from that stop)."""
    target = positive(total_float, "total float") / 2 + finite(offset, "offset")
    if not 0.0 <= target <= total_float:
        raise InputError(f"an offset of {offset * 1e3:.3f} mm leaves the total float of {total_float * 1e3:.3f} mm")
    return target


def thrust_faces(target: float, thrust_float: float, total_float: float) -> RotorPosition:
    """Rotor positions (m) with the thrust on the active and the inactive side: target ∓ half the thrust float.

    InputError if either would pass a stop: the rotor would rub before the thrust bearing takes it.
    """
    half = not_negative(thrust_float, "thrust float") / 2
    if target - half < 0.0 or target + half > total_float:
        raise InputError(
            f"with a thrust float of {thrust_float * 1e3:.3f} mm about {target * 1e3:.3f} mm the rotor hits its stop "
            f"(total float {total_float * 1e3:.3f} mm): check the split or the float readings"
        )
    return RotorPosition(target, target - half, target + half)


@dataclass(frozen=True, slots=True)
class Shim:
    """Shim change, m: positive = add, negative = take out; between ``least`` and ``most`` lands inside the limits."""

    least: float
    most: float

    @property
    def middle(self) -> float:
        """Change that lands in the middle of the limits, m."""
        return (self.least + self.most) / 2

    @property
    def needed(self) -> bool:
        """True when leaving it as it is would be outside the limits."""
        return self.least > 0.0 or self.most < 0.0

    @property
    def action(self) -> str:
        """``add``, ``take`` or ``leave``."""
        return "add" if self.least > 0.0 else "take" if self.most < 0.0 else "leave"


def shim_for_float(measured: float, low: float, high: float) -> Shim:
    """Shim that brings a measured float (m) between ``low`` and ``high``: adding a shim takes as much float away.

    Add measured − high (least) to measured − low (most). The side is where the thrust shims sit: adding behind the
    active shoes also moves the rotor towards the inactive side by the shim's thickness (see ``shim_sides``).
    """
    ordered(low, high, "float limits")
    not_negative(measured, "measured float")
    return Shim(measured - high, measured - low)


@dataclass(frozen=True, slots=True)
class ShimSides:
    """Shim change behind each set of thrust shoes, m: positive = add, negative = take out."""

    active: float
    inactive: float


def shim_sides(measured_float: float, wanted_float: float, position: float, wanted_position: float) -> ShimSides:
    """Shims (m) that set thrust float and running position at once.

    Positions (m) are of the rotor resting on its **active** shoes, measured from the stop the active shoes hold it off:
    adding behind the active shoes moves the rotor away from that stop by the same amount. Adding s_a there and s_i
    behind the inactive shoes changes the float by −(s_a + s_i): s_a = wanted − found position, s_i = found − wanted
    float − s_a. Geometry.
    """
    active = finite(wanted_position, "wanted position") - finite(position, "position found")
    inactive = not_negative(measured_float, "measured float") - not_negative(wanted_float, "wanted float") - active
    return ShimSides(active, inactive)


def lift_factor(pads: int, between_pads: bool) -> float:
    """Indicator lift over diametral clearance of a tilting-pad journal bearing with equal pads.

    The journal moves from rest (load on a pad or between two) straight up until the nearest upper pads stop it; a pad
    at angle α from the line of travel stops it at c/cos α (c radial): lift/2c = ½ (1/cos α_down + 1/cos α_up).
    Geometry: 3 pads 1.5; 4 on pad 1.0, between 1.414; 5 pads 1.118.
    """
    if pads < 3:
        raise InputError(f"a tilting-pad journal bearing has 3 pads or more, not {pads}")
    half_pitch = math.pi / pads
    down = half_pitch if between_pads else 0.0
    opposite_has_pad = (pads % 2 == 0) != between_pads
    up = 0.0 if opposite_has_pad else half_pitch
    # An even number between pads has a gap above too; an odd number has a pad opposite every gap.
    return 0.5 * (1 / math.cos(down) + 1 / math.cos(up))


def clearance_from_lift(lift: float, pads: int, between_pads: bool) -> float:
    """Diametral clearance (m) of a measured lift (m): lift/``lift_factor``."""
    return not_negative(lift, "lift") / lift_factor(pads, between_pads)


def o_ring_squeeze(section: float, gland_depth: float) -> float:
    """Share of an O-ring's section taken up by its gland: (section − depth)/section; negative: it does not seal."""
    return 1 - positive(gland_depth, "gland depth") / positive(section, "O-ring section")


def tilt_limit(spigot_clearance: float, engagement: float) -> float:
    """Tilt (rad) at which a spigot touches at two points: diametral clearance/engagement length. Geometry."""
    return not_negative(spigot_clearance, "spigot clearance") / positive(engagement, "spigot engagement")
