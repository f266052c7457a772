"""The bench on which one item's assessment is put together.

A room's assessor puts results on it, says its checks, and takes the frozen :class:`ItemResult` away. The bench knows the
registry of results, the rule for verdicts and how a missing input is said; it knows no physics.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from splitline.assess.cautions import caution, own_caution
from splitline.assess.details import ClearanceDetail, FitDetail
from splitline.assess.keys import Key, key_of
from splitline.assess.result import Caution, Check, Default, ItemResult, Put, Sense, Working, verdict_of, worst
from splitline.assess.speak import said
from splitline.errors import InputError
from splitline.units import System, show

Puts = Mapping[str, tuple[float | str | None, str]]


def clean(value: Any) -> Any:
    """Plain Python numbers and lists; None where anything in it is absent or not finite."""
    if type(value) is float:  # nearly all are
        return value if math.isfinite(value) else None
    if hasattr(value, "tolist"):
        value = value.tolist()
    if isinstance(value, list | tuple):
        if all(type(part) is float for part in value):  # rows of large matrices: no call per number
            return list(value) if all(map(math.isfinite, value)) else None
        parts = [clean(part) for part in value]
        return None if any(part is None for part in parts) else parts
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return value if math.isfinite(value) else None


def capital(title: str) -> str:
    """The title of a check as a heading; symbols stay as they are."""
    return title[:1].upper() + title[1:] if title[:1].isascii() else title


def _share(part: float, whole: float) -> float | None:
    """part/whole, or None where it is past every number."""
    share = part / whole
    return share if math.isfinite(share) else None


class Bench:
    """Collects one item's results, checks, cautions and defaults."""

    def __init__(self, of: str, ident: str, title: str, system: System = "SI") -> None:
        self.of = of
        self.results: dict[str, Any] = {}
        self.working: list[Working] = []
        self.system: System = system
        self.id = ident
        self.title = title
        self.checks: list[Check] = []
        self.fit = FitDetail()
        self.clearance = ClearanceDetail()
        self._cautions: dict[str, Caution] = {}
        self._defaults: dict[str, Default] = {}
        self._notes: list[str] = []

    def put(self, key: str, value: Any, puts: Puts | None = None, *, source: str = "", formula: str = "") -> Any:
        """Put a result (SI number or list) on the bench; absent and non-finite values are left off.

        ``puts`` maps the formula's symbols to (SI value, kind). ``source`` and ``formula`` replace the registry's where a
        choice was made. Returns the value, for use in the next line.
        """
        declared = key_of(self.of, key)
        plain = clean(value)
        if plain is None:
            return value
        self.results[key] = plain
        if puts is not None and isinstance(plain, int | float):
            self.working.append(self._line(declared, float(plain), puts, source, formula))
        return value

    def _line(self, declared: Key, value: float, puts: Puts, source: str, formula: str) -> Working:
        into = tuple(Put(symbol, v, kind) for symbol, (v, kind) in puts.items() if v is not None)
        return Working(declared.key, value, into, source or declared.source, formula or declared.formula)

    def get(self, key: str) -> Any:
        return self.results.get(key)

    def show(self, si: float, kind: str) -> str:
        """An SI value as text in the units this assessment speaks in."""
        return show(si, kind, self.system)

    def said(self, error: Exception) -> str:
        """What an error says, in the same units."""
        return said(error, self.system)

    def at_most(
        self, key: str, title: str, demand: float, limit: float, kind: str, basis: str, note: str = ""
    ) -> Check:
        """What is (``demand``) against what may be (``limit``)."""
        usage = _share(demand, limit) if limit > 0 else None
        return self._check(key, title, "at most", demand, limit, kind, usage, basis, note)

    def at_least(
        self, key: str, title: str, need: float, available: float, kind: str, basis: str, note: str = ""
    ) -> Check:
        """What is needed against what is there; nothing or less there fails without a usage."""
        usage = _share(max(need, 0.0), available) if available > 0 else (None if need > 0 or available < 0 else 0.0)
        return self._check(key, title, "at least", need, available, kind, usage, basis, note)

    def _check(
        self,
        key: str,
        title: str,
        sense: Sense,
        demand: float,
        limit: float,
        kind: str,
        usage: float | None,
        basis: str,
        note: str,
    ) -> Check:
        if not (math.isfinite(demand) and math.isfinite(limit)):
            return self.missing(key, title, (), basis, note or "cannot be computed from the values given", sense=sense)
        return self._add(
            Check(key, capital(title), sense, float(demand), float(limit), kind, usage, verdict_of(usage), basis, note)
        )

    def _add(self, check: Check) -> Check:
        self.checks.append(check)
        return self.checks[-1]

    def fails(self, key: str, title: str, basis: str, note: str, sense: Sense = "at most") -> Check:
        """A rule that is broken whatever the numbers (a lapsed calibration, a load that turns over)."""
        return self._add(Check(key, capital(title), sense, None, None, "number", None, "fails", basis, note))

    def passes(self, key: str, title: str, basis: str, note: str, sense: Sense = "at most") -> Check:
        """A rule that is kept and has no number (a calibration that holds)."""
        return self._add(Check(key, capital(title), sense, None, None, "number", None, "ok", basis, note))

    def near(self, key: str, title: str, basis: str, note: str, sense: Sense = "at most") -> Check:
        """A rule without a number that deserves a second look (a neutral hang)."""
        return self._add(Check(key, capital(title), sense, None, None, "number", None, "near", basis, note))

    def missing(
        self,
        key: str,
        title: str,
        needs: Sequence[str],
        basis: str = "",
        note: str = "",
        sense: Sense = "at most",
        kind: str = "number",
    ) -> Check:
        """A check whose inputs (field paths such as "bolting.engagement") are not in the plan."""
        return self._absent("missing", key, title, needs, basis, note, sense, kind)

    def on_site(
        self,
        key: str,
        title: str,
        needs: Sequence[str],
        basis: str = "",
        note: str = "",
        sense: Sense = "at most",
        kind: str = "number",
    ) -> Check:
        """A check whose inputs are known only on the job."""
        return self._absent("on-site", key, title, needs, basis, note, sense, kind)

    def _absent(
        self, verdict: Any, key: str, title: str, needs: Sequence[str], basis: str, note: str, sense: Sense, kind: str
    ) -> Check:
        return self._add(Check(key, capital(title), sense, None, None, kind, None, verdict, basis, note, tuple(needs)))

    @contextmanager
    def guard(self, key: str, title: str, basis: str = "") -> Iterator[None]:
        """Physics that refuses its inputs becomes a missing check that says why, never a traceback."""
        try:
            yield
        except InputError as error:
            self.missing(key, title, (), basis, self.said(error))

    def caution(self, code: str, detail: str = "") -> None:
        self._cautions[code] = caution(code, detail, self.system)

    def own_caution(self, text: str) -> None:
        """What the planner wrote, before the cautions of the trade."""
        own = own_caution(text)
        self._cautions = {own.code: own, **self._cautions}

    def default(self, field: str, said: str, basis: str) -> None:
        """Note a value nobody gave: the field, the value as text with unit, and its basis."""
        self._defaults[field] = Default(field, said, basis)

    def note(self, text: str) -> None:
        if text not in self._notes:
            self._notes.append(text)

    def done(self) -> ItemResult:
        """The frozen result; its verdict is the worst of its checks."""
        return ItemResult(
            kind=self.of,
            id=self.id,
            title=self.title,
            verdict=worst(c.verdict for c in self.checks),
            results=self.results,
            checks=tuple(self.checks),
            cautions=tuple(self._cautions.values()),
            working=tuple(self.working),
            defaults=tuple(self._defaults.values()),
            notes=tuple(self._notes),
            fit=self.fit,
            clearance=self.clearance,
        )
