"""How preloads answer a step while no bolt is slack: one small matrix per step, from one factorisation."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError

Array = NDArray[np.float64]
Pulled = tuple[int, ...]  # bolts of one step, counted from 0


class Gains(Protocol):
    """Answer of a joint to a pull, for bolts tightened in one known order."""

    bolts: int

    def gain(self, pulled: Pulled, tight: int) -> Array:
        """G (bolts × pulled): ΔF = G·(load wanted − load held) when ``tight`` bolts, these included, are tight."""

    def columns(self, pulled: Pulled) -> Array:
        """Change of all preloads per unit of nut movement at ``pulled``, all tight (any common scale per joint)."""


class ElasticGains:
    """Gains of M = I/k_b + C. A Cholesky factor in order of first tightening gives each step by one row: O(n)."""

    def __init__(self, matrix: Array, first_order: Sequence[int]) -> None:
        self.bolts = len(matrix)
        if sorted(first_order) != list(range(self.bolts)):
            raise InputError(f"the first pass must tighten each of the {self.bolts} bolts once")
        self.matrix = matrix
        self._order = np.asarray(first_order)
        self._place = {int(bolt): at for at, bolt in enumerate(first_order)}
        self._factor = np.linalg.cholesky(matrix[np.ix_(self._order, self._order)])
        self._inverse = np.linalg.inv(self._factor)
        self._stiffness: Array | None = None
        self._kept: dict[Pulled, Array] = {}

    def gain(self, pulled: Pulled, tight: int) -> Array:
        if tight == self.bolts:
            return self._all_tight(pulled)
        before = tight - len(pulled)
        if [self._place[bolt] for bolt in pulled] != list(range(before, tight)):
            return self._some_tight(pulled, tight)
        answer = np.zeros((self.bolts, len(pulled)))
        answer[self._order[:tight]] = self._inverse[before:tight, :tight].T @ self._factor[before:tight, before:tight].T
        return answer

    def columns(self, pulled: Pulled) -> Array:
        part: Array = self.stiffness[:, list(pulled)]
        return part

    @property
    def stiffness(self) -> Array:
        """S = M⁻¹ with all bolts tight, N/m."""
        if self._stiffness is None:
            inside = np.empty_like(self.matrix)
            inside[np.ix_(self._order, self._order)] = self._inverse.T @ self._inverse
            self._stiffness = inside
        return self._stiffness

    def stiffness_of_first(self, tight: int) -> Array:
        """S of the ``tight`` first-tightened bolts, 0 elsewhere."""
        inside = np.zeros_like(self.matrix)
        rows = self._inverse[:tight, :tight]
        inside[np.ix_(self._order[:tight], self._order[:tight])] = rows.T @ rows
        return inside

    def _all_tight(self, pulled: Pulled) -> Array:
        if pulled not in self._kept:
            self._kept[pulled] = _scaled(self.stiffness[:, list(pulled)], pulled)
        return self._kept[pulled]

    def _some_tight(self, pulled: Pulled, tight: int) -> Array:
        return _scaled(self.stiffness_of_first(tight)[:, list(pulled)], pulled)


class MeasuredGains:
    """Gains of measured coefficients, which apply unchanged between bolts already tightened."""

    def __init__(self, coefficients: Array, first_order: Sequence[int]) -> None:
        self.bolts = len(coefficients)
        if sorted(first_order) != list(range(self.bolts)):
            raise InputError(f"the first pass must tighten each of the {self.bolts} bolts once")
        self.coefficients = coefficients
        self._order = np.asarray(first_order)

    def gain(self, pulled: Pulled, tight: int) -> Array:
        answer = _scaled(self.coefficients[:, list(pulled)], pulled)
        answer[self._order[tight:]] = 0.0
        return answer

    def columns(self, pulled: Pulled) -> Array:
        part: Array = self.coefficients[:, list(pulled)]
        return part


def _scaled(columns: Array, pulled: Pulled) -> Array:
    """Columns per unit of load at the pulled bolts themselves, which end at their loads together."""
    answer = np.empty_like(columns)
    if len(pulled) == 1:
        np.divide(columns, columns[pulled[0]], out=answer)
    else:
        answer[:] = np.linalg.solve(columns[list(pulled)].T, columns.T).T
    return answer
