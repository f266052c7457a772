"""A small axisymmetric finite-element solver (8-node quads, 3 × 3 Gauss) to hold the closed forms against.

Independent of them: it knows only Hooke's law, body forces ρω²r and a frictionless contact that closes a radial
interference. Half the length is modelled; z = 0 is the plane of symmetry.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.fitting.cylinder import Elastic

Array = NDArray[np.float64]
_G = math.sqrt(0.6)
_GAUSS = ((-_G, 5 / 9), (0.0, 8 / 9), (_G, 5 / 9))
_CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))


def _shape(x: float, y: float) -> tuple[Array, Array]:
    """Serendipity shape functions and their derivatives at (x, y)."""
    n, d = np.zeros(8), np.zeros((2, 8))
    for i, (a, b) in enumerate(_CORNERS):
        n[i] = (1 + a * x) * (1 + b * y) * (a * x + b * y - 1) / 4
        d[0, i] = a * (1 + b * y) * (2 * a * x + b * y) / 4
        d[1, i] = b * (1 + a * x) * (a * x + 2 * b * y) / 4
    for i, (a, b) in enumerate(((0, -1), (1, 0), (0, 1), (-1, 0)), 4):
        if a == 0:
            n[i] = (1 - x * x) * (1 + b * y) / 2
            d[:, i] = -x * (1 + b * y), b * (1 - x * x) / 2
        else:
            n[i] = (1 - y * y) * (1 + a * x) / 2
            d[:, i] = a * (1 - y * y) / 2, -y * (1 + a * x)
    return n, d


@dataclass
class Body:
    """Nodes (r, z), stiffness and load of one ring; ``inner`` and ``outer`` are its cylindrical faces, bottom to top."""

    nodes: Array
    stiffness: Array
    load: Array
    inner: list[int]
    outer: list[int]
    axis: list[int]
    middle: list[int]


def ring(inside: float, outside: float, half: float, material: Elastic, speed: float, cells: tuple[int, int]) -> Body:
    """Mesh and assemble a ring of radii ``inside`` to ``outside`` and half length ``half``."""
    across, along = cells
    index: dict[tuple[int, int], int] = {}
    places: list[tuple[float, float]] = []

    def node(i: int, j: int) -> int:
        if (i, j) not in index:
            index[i, j] = len(places)
            places.append((inside + (outside - inside) * i / (2 * across), half * j / (2 * along)))
        return index[i, j]

    elements = [
        [node(2 * i + a, 2 * j + b) for a, b in ((0, 0), (2, 0), (2, 2), (0, 2), (1, 0), (2, 1), (1, 2), (0, 1))]
        for i in range(across)
        for j in range(along)
    ]
    nodes = np.array(places)
    stiffness, load = np.zeros((2 * len(nodes),) * 2), np.zeros(2 * len(nodes))
    for element in elements:
        k, f = _element(nodes[element], material, speed)
        at = np.ravel([[2 * n, 2 * n + 1] for n in element])
        stiffness[np.ix_(at, at)] += k
        load[at] += f
    column = [[index[i, j] for j in range(2 * along + 1)] for i in (0, 2 * across)]
    bottom = [index[i, 0] for i in range(2 * across + 1)]
    return Body(nodes, stiffness, load, column[0], column[1], column[0] if inside == 0 else [], bottom)


def oiled(body: Body, half: float, sealed: float, pressure: float) -> Array:
    """Displacements of a ring whose bore carries oil at ``pressure`` (Pa) up to ``sealed`` of its half length.

    The oil acts on whole edges of elements; consistent loads of a quadratic edge 1:4:1.
    """
    load = body.load.copy()
    z, inner = body.nodes[body.inner, 1], body.inner
    radius = float(body.nodes[inner[0], 0])
    for first in range(0, len(inner) - 2, 2):
        if z[first + 2] <= sealed * half * (1 + 1e-9):
            edge = float(z[first + 2] - z[first]) * pressure * radius
            for place, share in zip(inner[first : first + 3], (1 / 6, 4 / 6, 1 / 6), strict=True):
                load[2 * place] += edge * share
    return _solved(body, load)


def warmed(body: Body, material: Elastic, rise: float | Callable[[float], float], cells: list[list[int]]) -> Array:
    """Displacements of a free ring warmed by ``rise`` (K), even or by the radius (m): thermal strain as an initial strain."""
    load = body.load.copy()
    hooke = _hooke(material)
    for element in cells:
        for weight, b, place in _points(body.nodes[element]):
            here = rise(float(place[0])) if callable(rise) else rise
            strain = material.expansion * here * np.array([1.0, 1.0, 1.0, 0.0])
            force = b.T @ hooke @ strain * weight
            load[np.ravel([[2 * n, 2 * n + 1] for n in element])] += force
    return _solved(body, load)


def _solved(body: Body, load: Array) -> Array:
    fixed = [2 * n for n in body.axis] + [2 * n + 1 for n in body.middle]
    free = np.setdiff1d(np.arange(len(load)), fixed)
    found = np.zeros(len(load))
    found[free] = np.linalg.solve(body.stiffness[np.ix_(free, free)], load[free])
    return found


def mises(body: Body, material: Elastic, moved: Array, cells: list[list[int]]) -> list[tuple[float, float, float]]:
    """Radius, height (m) and von Mises stress (Pa) at every Gauss point."""
    hooke = _hooke(material)
    found = []
    for element in cells:
        at = np.ravel([[2 * n, 2 * n + 1] for n in element])
        for _, b, place in _points(body.nodes[element]):
            r, t, z, shear = hooke @ b @ moved[at]
            combined = math.sqrt(((r - t) ** 2 + (t - z) ** 2 + (z - r) ** 2) / 2 + 3 * shear**2)
            found.append((float(place[0]), float(place[1]), combined))
    return found


def elements_of(cells: tuple[int, int], body: Body) -> list[list[int]]:
    """Node numbers of the elements of ``ring``, by the places of its nodes."""
    across, along = cells
    radii, heights = np.unique(np.round(body.nodes[:, 0], 12)), np.unique(np.round(body.nodes[:, 1], 12))
    index = {(round(r, 12), round(z, 12)): n for n, (r, z) in enumerate(body.nodes.tolist())}
    return [
        [
            index[round(float(radii[2 * i + a]), 12), round(float(heights[2 * j + b]), 12)]
            for a, b in ((0, 0), (2, 0), (2, 2), (0, 2), (1, 0), (2, 1), (1, 2), (0, 1))
        ]
        for i in range(across)
        for j in range(along)
    ]


def _hooke(material: Elastic) -> Array:
    e, nu = material.modulus, material.poisson
    hooke = np.full((3, 3), nu) + (1 - 2 * nu) * np.eye(3)
    hooke = np.pad(hooke, ((0, 1), (0, 1)))
    hooke[3, 3] = (1 - 2 * nu) / 2
    return np.asarray(hooke * e / ((1 + nu) * (1 - 2 * nu)))


def _points(xy: Array) -> list[tuple[float, Array, Array]]:
    """Weight times radius, strain matrix and place of each Gauss point of an element."""
    found = []
    for x, wx in _GAUSS:
        for y, wy in _GAUSS:
            n, d = _shape(x, y)
            jacobian = d @ xy
            grad = np.linalg.solve(jacobian, d)
            place = n @ xy
            b = np.zeros((4, 16))
            b[0, 0::2], b[1, 0::2], b[2, 1::2] = grad[0], n / place[0], grad[1]
            b[3, 0::2], b[3, 1::2] = grad[1], grad[0]
            found.append((wx * wy * float(np.linalg.det(jacobian)) * float(place[0]), b, place))
    return found


def _element(xy: Array, material: Elastic, speed: float) -> tuple[Array, Array]:
    hooke = _hooke(material)
    k, f = np.zeros((16, 16)), np.zeros(16)
    at = [(wx, x, wy, y) for x, wx in _GAUSS for y, wy in _GAUSS]
    for (weight, b, place), (_, x, _, y) in zip(_points(xy), at, strict=True):
        k += b.T @ hooke @ b * weight
        f[0::2] += _shape(x, y)[0] * material.density * speed**2 * place[0] * weight
    return k, f


def fitted(shaft: Body, hub: Body, radius: float, half: float, interference: float) -> tuple[float, float]:
    """Mean contact pressure (Pa) of two rings whose radii overlap by ``interference`` (m, radial); mean growth of the hub bore."""
    shift, total = len(shaft.load), len(shaft.load) + len(hub.load)
    pairs = list(zip(shaft.outer, hub.inner, strict=True))
    fixed = [2 * n for n in shaft.axis] + [2 * n + 1 for n in shaft.middle] + [shift + 2 * n + 1 for n in hub.middle]
    size = total + len(pairs)
    matrix, right = np.zeros((size, size)), np.zeros(size)
    matrix[:shift, :shift], matrix[shift:total, shift:total] = shaft.stiffness, hub.stiffness
    right[:shift], right[shift:total] = shaft.load, hub.load
    for row, (s, h) in enumerate(pairs, total):
        for place, sign in ((2 * s, -1.0), (shift + 2 * h, 1.0)):
            matrix[row, place] = matrix[place, row] = sign
        right[row] = interference
    free = np.setdiff1d(np.arange(size), fixed)
    found = np.zeros(size)
    found[free] = np.linalg.solve(matrix[np.ix_(free, free)], right[free])
    # Simpson's weights over the quadratic elements of the bore
    weights = np.full(len(hub.inner), 2.0)
    weights[1::2], weights[0], weights[-1] = 4.0, 1.0, 1.0
    bore = np.array([found[shift + 2 * n] for n in hub.inner])
    return float(-found[total:].sum() / (radius * half)), float(weights @ bore / weights.sum())
