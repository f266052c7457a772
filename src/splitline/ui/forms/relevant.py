"""Fields that say something under the choices made so far: a tensioner has no torque chart, a split line no bolt circle."""

from __future__ import annotations

from typing import Any

from splitline.plan.edits import Path

HYDRAULIC, TENSIONER = "hydraulic wrench", "hydraulic tensioner"
# Table (the names of its path, without numbers) -> the field that decides, as seen from the item -> what each choice brings.
_BY_CHOICE: dict[tuple[str, ...], tuple[tuple[str, ...], dict[str, tuple[str, ...]]]] = {
    ("joint", "layout"): (
        ("layout", "shape"),
        {
            "circle": ("bolts", "diameter", "first_at", "numbering"),
            "split-line": ("side_a", "side_b", "half_width", "line_from", "line_to"),
            "points": ("points",),
        },
    ),
    ("joint", "tightening", "tool"): (
        ("tightening", "method"),
        {
            "torque wrench": ("torque_min", "torque_max"),
            "turn": ("torque_min", "torque_max", "chart", "torque_per_pressure", "pressure_max"),
            HYDRAULIC: ("pump", "torque_min", "torque_max", "chart", "torque_per_pressure", "pressure_max"),
            TENSIONER: ("pump", "piston_area", "pressure_max", "stroke", "loss"),
            "stretch": ("piston_area", "pressure_max", "stroke", "loss", "torque_min", "torque_max", "chart",
                        "torque_per_pressure"),
            "heat": (),
        },
    ),
    ("joint", "tightening"): (("tightening", "method"), {TENSIONER: ("coverage", "nut_torque")}),
    ("joint", "load"): (
        ("load", "seal"),
        {"gasket": ("gasket", "gasket_width", "gasket_m", "gasket_y", "gasket_limit", "gasket_inner"), "o-ring": ()},
    ),
    ("joint", "member"): (
        ("layout", "shape"), {"split-line": ("flange_width",), "circle": ("outer_diameter", "inner_diameter")},
    ),
    ("fit",): (
        ("mounting",),
        {
            "oil": ("oil_hold", "drain", "max_expansion_pressure", "max_pump_pressure", "friction_mounting",
                    "max_ram_force", "ram_area",
                    "max_ram_pressure", "stop_dimension", "stop_tolerance", "oil_ratio", "seating_load"),
            "heat": ("handling_gap", "least_gap", "max_temperature", "ambient", "shaft_cooled_to",
                     "carry", "heat_by", "heater", "oil_ported"),
            "press": ("max_ram_force", "ram_area", "max_ram_pressure", "stop_dimension", "stop_tolerance"),
        },
    ),
    ("clearance",): (
        ("kind",),
        {
            "measure": ("sides",),
            "float-split": ("split", "offset", "split_tolerance", "growth", "thrust_float"),
            "shim": ("wanted", "shim", "side", "shim_set", "position", "wanted_position"),
            "tilting-pad": ("pads", "between_pads"),
            "probe": ("sensitivity", "curve", "reading", "axial_float"),
        },
    ),
}  # fmt: skip
# (table, field) -> a field beside it and what that must be.
_BESIDE: dict[tuple[tuple[str, ...], str], tuple[str, str]] = {
    (("joint", "tightening"), "listed"): ("order", "listed"),
    (("lift", "leg"), "choke_angle"): ("hitch", "choker"),
}


def relevant(item: Any, path: Path) -> bool:
    """Whether the field at ``path`` of the item (as typed) says anything under the choices made; True where none is made."""
    names = tuple(step for step in path if isinstance(step, str))
    table, name = names[:-1], names[-1] if names else ""
    found = _BY_CHOICE.get(table)
    if found is not None:
        choice = _at(item, found[0])
        every = {field for fields in found[1].values() for field in fields}
        if isinstance(choice, str) and name in every and name not in found[1].get(choice, ()):
            return False
    beside = _BESIDE.get((table, name))
    return beside is None or _at(item, (*path[2:-1], beside[0])) == beside[1]


def _at(item: Any, steps: tuple[Any, ...]) -> Any:
    for step in steps:
        if isinstance(item, dict):
            item = item.get(step)
        elif isinstance(item, list) and isinstance(step, int) and step < len(item):
            item = item[step]
        else:
            return None
    return item
