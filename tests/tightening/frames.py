"""Rings and beams on springs solved by PyNiteFEA, an independent frame solver, for comparison."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin, sqrt, tanh
from typing import Any

import numpy as np
from numpy.typing import NDArray

from splitline.tightening.contact import Flange


def torsion_constant(width: float, height: float) -> float:
    """J of a solid rectangle by the exact series (Timoshenko and Goodier, Theory of Elasticity, art. 109), m⁴."""
    a, b = max(width, height), min(width, height)
    series = sum(tanh(n * pi * a / (2 * b)) / n**5 for n in range(1, 40, 2))
    return float(a * b**3 / 3 * (1 - 192 / pi**5 * b / a * series))


def ring_descent(
    flange: Flange, radius: float, bolts: int, per_bolt: int, bolt_stiffness: float = 0.0
) -> NDArray[np.float64]:
    """Descent of every seat, m, when seat 1 is pressed down by 1 N; with springs for the bolts where stiffness is given.

    A polygon of ``bolts × per_bolt`` members; rigid arms carry two rows of face springs at ± w/(2√3), which together have
    the line and the rocking stiffness of the face.
    """
    from Pynite import FEModel3D

    points, modulus = bolts * per_bolt, flange.modulus
    model: Any = FEModel3D()
    model.add_material("steel", modulus, modulus / 2.6, 0.3, 1e-9)
    bending = flange.bending / modulus
    model.add_section(
        "ring", flange.width * flange.height, bending, bending, torsion_constant(flange.width, flange.height)
    )
    model.add_section("arm", 1.0, 1.0, 1.0, 1.0)
    arm, spring = flange.width / (2 * sqrt(3)), flange.line_stiffness * 2 * pi * radius / points / 2
    for at in range(points):
        angle = 2 * pi * at / points
        for name, out in (("R", radius), ("I", radius - arm), ("O", radius + arm)):
            model.add_node(f"{name}{at}", out * cos(angle), 0, out * sin(angle))
        model.def_support(f"R{at}", True, False, True, False, True, False)
        for name in "IO":
            model.add_member(f"A{name}{at}", f"R{at}", f"{name}{at}", "steel", "arm")
            model.def_support_spring(f"{name}{at}", "DY", spring)
        if bolt_stiffness and at % per_bolt == 0:
            model.def_support_spring(f"R{at}", "DY", bolt_stiffness)
    for at in range(points):
        model.add_member(f"M{at}", f"R{at}", f"R{(at + 1) % points}", "steel", "ring")
    model.add_node_load("R0", "FY", -1.0)
    model.analyze_linear()
    return np.array([-model.nodes[f"R{at * per_bolt}"].DY["Combo 1"] for at in range(bolts)])


def beam_descent(flange: Flange, length: float, parts: int, loaded: int) -> NDArray[np.float64]:
    """Descent of the ends of ``parts`` equal members, m, when node ``loaded`` is pressed down by 1 N. Free ends."""
    from Pynite import FEModel3D

    modulus = flange.modulus
    model: Any = FEModel3D()
    model.add_material("steel", modulus, modulus / 2.6, 0.3, 1e-9)
    bending = flange.bending / modulus
    model.add_section(
        "flange", flange.width * flange.height, bending, bending, torsion_constant(flange.width, flange.height)
    )
    for at in range(parts + 1):
        model.add_node(f"N{at}", length * at / parts, 0, 0)
        model.def_support(f"N{at}", True, False, True, True, True, False)
        share = 0.5 if at in (0, parts) else 1.0
        model.def_support_spring(f"N{at}", "DY", flange.line_stiffness * length / parts * share)
    for at in range(parts):
        model.add_member(f"M{at}", f"N{at}", f"N{at + 1}", "steel", "flange")
    model.add_node_load(f"N{loaded}", "FY", -1.0)
    model.analyze_linear()
    return np.array([-model.nodes[f"N{at}"].DY["Combo 1"] for at in range(parts + 1)])


def beam_lifting(
    flange: Flange, length: float, bolts: list[float], points: int, springs: dict[int, float], loads: dict[int, float]
) -> NDArray[np.float64]:
    """Descent of the seats at ``bolts``, m, on face springs that only push (one at the middle of each of ``points`` cells).

    ``springs``: bolt number (from 0) to its spring to ground, N/m; ``loads``: bolt number to the force pressing it down.
    """
    from Pynite import FEModel3D

    modulus, cell = flange.modulus, length / points
    model: Any = FEModel3D()
    model.add_material("steel", modulus, modulus / 2.6, 0.3, 1e-9)
    bending = flange.bending / modulus
    model.add_section(
        "flange", flange.width * flange.height, bending, bending, torsion_constant(flange.width, flange.height)
    )
    faces = {cell * (at + 0.5): f"P{at}" for at in range(points)}
    places = {0.0: "start", length: "end", **faces, **{place: f"B{at}" for at, place in enumerate(bolts)}}
    ordered = sorted(places)
    for place in ordered:
        name = places[place]
        model.add_node(name, place, 0, 0)
        model.def_support(name, True, False, True, True, True, False)
        if name.startswith("P"):
            model.def_support_spring(name, "DY", flange.line_stiffness * cell, "-")
    for at, (one, other) in enumerate(pairwise(ordered)):
        model.add_member(f"M{at}", places[one], places[other], "steel", "flange")
    for at, stiffness in springs.items():
        model.def_support_spring(f"B{at}", "DY", stiffness)
    for at, load in loads.items():
        model.add_node_load(f"B{at}", "FY", -load)
    model.analyze(check_statics=False)
    return np.array([-model.nodes[f"B{at}"].DY["Combo 1"] for at in range(len(bolts))])
