"""Preloads when bolts go slack and come back, or faces open and close: forces that only pull, or only push.

F minimises ½FᵀMF − eᵀF with F ≥ 0 over the parts that take part (tightened bolts, and face points where a gap is
modelled): e is the position of a nut, or minus the gap of a face point. A part without force has room: M·F ≥ e there.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.gains import Pulled

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

_BULK = 8  # exchanges at once (and an eighth of all parts) above which the inverse is made afresh
_REFRESH = 12  # turns of one step after which rounding gathered by exchanges is cleared


class Unilateral:
    """A joint's state with one-sided forces. Positions e (m), forces F (N); tightening moves it on step by step."""

    def __init__(self, matrix: Array, position: Array, taking_part: Mask, force: Array) -> None:
        self.matrix = matrix
        self.position = position.copy()
        self.taking_part = taking_part.copy()
        self.force = force.copy()
        self.active: Mask = taking_part & (force > 0)
        self.inverse = self._fresh()
        self._scratch, self._own = np.empty_like(matrix), matrix.diagonal()

    def copy(self) -> Unilateral:
        """The same state, to be moved on apart."""
        twin = object.__new__(Unilateral)
        twin.matrix, twin._scratch, twin._own = self.matrix, np.empty_like(self.matrix), self._own
        twin.position, twin.taking_part = self.position.copy(), self.taking_part.copy()
        twin.force, twin.active, twin.inverse = self.force.copy(), self.active.copy(), self.inverse.copy()
        return twin

    def pull(self, bolts: Pulled, loads: Array) -> Pulled:
        """Tighten ``bolts`` together to ``loads``; a nut is never slackened. Returns the bolts whose nuts moved.

        InputError when no rest is found (a matrix that is not positive definite).
        """
        moving = [bolt for bolt in bolts if self._short(bolt, loads[bolts.index(bolt)])]
        before = self.position.copy()
        for _ in range(3 * len(bolts) + 1):
            if not moving:
                break
            self.position = before.copy()
            self._settle(np.array(moving), np.array([loads[bolts.index(bolt)] for bolt in moving]))
            back = [b for b in moving if self.taking_part[b] and self.position[b] < before[b] - _room(before)]
            late = [b for b in bolts if b not in moving and self._short(b, loads[bolts.index(b)])]
            if not back and not late:
                break
            moving = [b for b in moving if b not in back] + late
            if not moving:
                self.position = before
                self._settle(np.array([], dtype=int), np.array([]))
        self.taking_part[list(moving)] = True
        return tuple(sorted(moving))

    def stand(self, positions: Array) -> None:
        """The nuts of the first parts stand at ``positions`` (m); forces find their rest anew."""
        self.position[: len(positions)] = positions
        self._settle(np.array([], dtype=int), np.array([]))

    def _short(self, bolt: int, load: float) -> bool:
        return not self.taking_part[bolt] or bool(self.force[bolt] < load * (1 - 1e-12))

    def _settle(self, held: NDArray[np.int_], loads: Array) -> None:
        """Find forces with ``held`` at ``loads`` and all others at rest: block pivoting, one by one if it does not shrink."""
        fixed = np.zeros(len(self.matrix), dtype=bool)
        fixed[held] = True
        first = fixed & ~self.active
        if first.any():
            self._exchange(first, fixed & False)
        fewest, patience = len(self.matrix) + 1, 10
        for turn in range(50 * len(self.matrix)):
            if turn % _REFRESH == _REFRESH - 1:
                self.inverse = self._fresh()
            force = self._forces(held, loads)
            scale = 1e-10 * (np.abs(force).max(initial=0.0) or 1.0)
            leave = self.active & ~fixed & (force < -scale)
            enter = fixed & False
            resting = self.taking_part & ~self.active
            if resting.any():
                room = self.matrix @ force - self.position
                enter = resting & (room < -scale * self._own)
            wrong = int(leave.sum() + enter.sum())
            if not wrong:
                self.force = np.where(self.active, np.maximum(force, 0.0), 0.0)
                return
            fewest, patience = (wrong, 10) if wrong < fewest else (fewest, patience - 1)
            if patience < 0:
                last = int(np.flatnonzero(leave | enter)[-1])
                only = np.arange(len(fixed)) == last
                leave, enter = leave & only, enter & only
            self._exchange(enter, leave)
        raise InputError("no state of rest was found for the tightened bolts; check stiffnesses and gaps")

    def _forces(self, held: NDArray[np.int_], loads: Array) -> Array:
        """Forces of the active parts; sets the positions of the held bolts that give them their loads."""
        self.position[held] = 0.0
        force: Array = self.inverse @ self.position  # columns of parts without force are zero
        if len(held) == 1:
            bolt = int(held[0])
            column = self.inverse[:, bolt]
            self.position[bolt] = (loads[0] - force[bolt]) / column[bolt]
            force += column * self.position[bolt]
        elif len(held):
            self.position[held] = np.linalg.solve(self.inverse[np.ix_(held, held)], loads - force[held])
            force = force + self.inverse[:, held] @ self.position[held]
        return force

    def _exchange(self, enter: Mask, leave: Mask) -> None:
        """Keep the inverse over the active parts in step with the parts that enter and leave, each lot at once.

        Where rounding has eaten the small difference an update lives on (faces far softer than their bolts), afresh.
        """
        out, new = np.flatnonzero(leave), np.flatnonzero(enter)
        after = (self.active | enter) & ~leave
        try:
            if len(out) + len(new) <= max(_BULK, len(self.matrix) // 8):
                self._update(out, new)
                return
        except np.linalg.LinAlgError:
            pass
        self.active = after
        self.inverse = self._fresh()

    def _update(self, out: NDArray[np.intp], new: NDArray[np.intp]) -> None:
        """The inverse by the change alone; LinAlgError where what is left of a part is not above rounding."""
        if len(new) == 1 and not len(out):
            self._enter(int(new[0]))
            return
        if len(out):
            column = self.inverse[:, out]
            self.inverse -= self._square(column, column[out])
            self.inverse[out, :] = self.inverse[:, out] = 0.0
            self.active[out] = False
        if len(new):
            answer = self.inverse @ self.matrix[:, new]
            own = self.matrix[np.ix_(new, new)] - self.matrix[new] @ answer
            answer[new] -= np.eye(len(new))
            self.inverse += self._square(answer, own)
            self.active[new] = True

    def _enter(self, new: int) -> None:
        """One part more: the same without arrays of one."""
        row = self.matrix[new]
        answer = self.inverse @ row
        own = float(row[new] - row @ answer)
        if own <= 0.0:
            raise np.linalg.LinAlgError
        answer[new] = -1.0
        np.multiply(answer[:, None], answer / own, out=self._scratch)
        self.inverse += self._scratch
        self.active[new] = True

    def _square(self, columns: Array, own: Array) -> Array:
        """columns · own⁻¹ · columnsᵀ, symmetric to the last bit (else rounding gathers), in memory that is used again."""
        if len(own) == 1:
            if own[0, 0] <= 0.0:
                raise np.linalg.LinAlgError
            np.multiply(columns, columns.T / own[0, 0], out=self._scratch)
        else:
            half = np.linalg.solve(np.linalg.cholesky(own), columns.T)
            np.matmul(half.T, half, out=self._scratch)
        return self._scratch

    def _fresh(self) -> Array:
        inside = np.zeros_like(self.matrix)
        part = np.flatnonzero(self.active)
        inside[np.ix_(part, part)] = np.linalg.inv(self.matrix[np.ix_(part, part)])
        return inside


def _room(position: Array) -> float:
    return 1e-12 * float(np.abs(position).max(initial=0.0))
