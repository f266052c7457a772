"""A gasketed closure after ASME VIII-1 Appendix 2: seating, operation, crushing."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.context import Context
from splitline.assess.joint_cases import Thermal
from splitline.assess.joint_load import CASE, CaseAt
from splitline.assess.joint_scatter import Ends
from splitline.assess.joint_sheet import SHEET, Sized, gasketed
from splitline.assess.sheet import Absent, Against, Assumed, Each, Rule
from splitline.bolting import gasket as gk
from splitline.plan.model.joint import Joint, Load
from splitline.units import show

APP2 = "ASME VIII-1 Appendix 2"


@dataclass(frozen=True, slots=True)
class Gasket:
    """The gasket of a joint as read from plan and library."""

    m: float
    y: float
    width: float
    source: str
    limit: float | None
    limit_source: str


def _in_cases(joint: Joint) -> bool:
    return gasketed(joint) and bool(joint.case)


@SHEET.result(when=_in_cases, after=("all_case",))
def gasket(joint: Joint, context: Context) -> Gasket:
    load = joint.load or Load()
    row = context.library.get("gaskets", load.gasket) if load.gasket else None
    m = load.gasket_m if load.gasket_m is not None else (row["m"] if row is not None else None)
    y = load.gasket_y if load.gasket_y is not None else (row["y"] if row is not None else None)
    named = (("gasket_width", load.gasket_width), ("gasket_m", m), ("gasket_y", y))
    needs = [f"load.{name}" for name, value in named if value is None]
    if load.gasket_inner is None and load.pressure_diameter is None:
        needs.append("load.gasket_inner")
    if load.gasket and row is None and (m is None or y is None):
        raise Absent("load.gasket", why=f'"{load.gasket}" is not in the library')
    if needs or load.gasket_width is None or m is None or y is None:
        raise Absent(*needs)
    limit, source = load.gasket_limit, "plan"
    if limit is None and row is not None and row.get("crush") is not None:
        limit, source = row["crush"], row.get("note", "") or row.source
    if limit is None and y > 0.0:
        limit, source = gk.crush_limit(y), f"2 y, {APP2}: least gasket width"
    return Gasket(m, y, load.gasket_width, row.source if row is not None else "plan", limit, source)


@SHEET.result()
def seat(joint: Joint, gasket: Gasket) -> gk.Seat:
    """From the gasket's own diameters, or with its reaction diameter taken as the pressure diameter."""
    load = joint.load or Load()
    if load.gasket_inner is not None:
        return gk.seat(load.gasket_inner + 2.0 * gasket.width, load.gasket_inner)
    return gk.seat_at(load.pressure_diameter or 0.0, gasket.width)


@SHEET.note(after=("seat",))
def stands_for_g(joint: Joint, context: Context) -> Assumed | None:
    load = joint.load or Load()
    if load.gasket_inner is not None:
        return None
    text = f"G = {show(load.pressure_diameter or 0.0, 'length', context.system)}"
    return Assumed(None, "load.gasket_inner", "the pressure diameter stands for G", text=text)


@SHEET.check("gasket_seating", "gasket seating", basis=APP2, sense="at least", when=_in_cases, after=("all_case",))
def gasket_known(seat: gk.Seat) -> None:
    """Only says what is missing."""


@dataclass(frozen=True, slots=True)
class Sums:
    """Low and high preload of all bolts together, N: low by the mean, since not every bolt is the lowest."""

    low: float
    high: float
    bolts: int

    @property
    def high_each(self) -> float:
        return self.high / self.bolts


@SHEET.result(each={"sizes": Each("size"), "every": Each("ends")})
def sums(sizes: tuple[Sized, ...], every: tuple[Ends, ...], bolt_count: int) -> Sums:
    numbers = [len(size.bolts) or bolt_count for size in sizes]
    low, high = (
        sum(number * load for number, load in zip(numbers, loads, strict=True))
        for loads in ([ends.low_mean for ends in every], [ends.high_mean for ends in every])
    )
    return Sums(low, high, bolt_count)


def _tell(name: str, path: str, kind: str, title: str, symbol: str, formula: str, **puts: tuple[str, str]) -> None:
    source = f"{APP2.replace('Appendix', 'App.')}, Table 2-5.2"
    SHEET.tell(name, path, kind, title, symbol, formula, source, puts=puts or None, after=("sums",))


_tell("gasket_diameter", "seat.diameter", "length", "Gasket reaction diameter", "G",
      "mean contact diameter, or the outer less 2 b where N/2 > 6.35 mm")  # fmt: skip
_tell("gasket_effective_width", "seat.effective_width", "length", "Effective gasket width", "b",
      "b0 = N/2; above 1/4 in 0.5·√b0 (in)", N=("seat.width", "length"))  # fmt: skip


@SHEET.result(kind="force", title="Seating load of the gasket", symbol="W_m2", formula="π b G y", after=("sums",),
              source=f"{APP2}, 2-5(c)(2); y: {{gasket.source}}",
              puts={"b": ("seat.effective_width", "length"), "G": ("seat.diameter", "length"),
                    "y": ("gasket.y", "stress")})  # fmt: skip
def gasket_seating_load(seat: gk.Seat, gasket: Gasket) -> float:
    return gk.seating_load(seat, gasket.y)


@SHEET.check("gasket_seating", "gasket seating at low preload, all bolts", sense="at least", kind="force", quiet=True,
             basis=f"{APP2}, 2-5(c)(2); gasket factors: {{gasket.source}}")  # fmt: skip
def seated(gasket_seating_load: float, sums: Sums) -> Against:
    return Against(gasket_seating_load, sums.low)


@SHEET.result(kind="stress", title="Gasket pressure at high preload", symbol="p_G", formula="n·F_high / (π G N)",
              source="ASME VIII-1 App. 2",
              puts={"n": ("sums.bolts", "count"), "F_high": ("sums.high_each", "force"), "G": ("seat.diameter", "length"),
                    "N": ("seat.width", "length")})  # fmt: skip
def gasket_stress_high(seat: gk.Seat, sums: Sums) -> float:
    return gk.gasket_stress(seat, sums.high)


@SHEET.check("gasket_crush", "gasket pressure at high preload", kind="stress", quiet=True)
def not_crushed(gasket_stress_high: float, gasket: Gasket) -> Against | Rule:
    if gasket.limit is None:
        return Rule("missing", "needs load.gasket_limit", ("load.gasket_limit",), APP2)
    return Against(gasket_stress_high, gasket.limit, basis=gasket.limit_source)


# in operation, case by case: the low preload of all bolts, each size with its own change by temperature


@SHEET.result(CASE, each={"sizes": Each("size"), "changes": Each("thermal")})
def low_in_operation(sizes: tuple[Sized, ...], changes: tuple[Thermal, ...], sums: Sums) -> float:
    numbers = [len(size.bolts) or sums.bolts for size in sizes]
    return sums.low + sum(number * change.low for number, change in zip(numbers, changes, strict=True))


@SHEET.result(CASE)
def gasket_pressure(case: CaseAt, gasket: Gasket) -> float | None:
    return None if case.plan.pressure is None else max(case.plan.pressure, 0.0)


@SHEET.result(CASE, kind="force", title="Operating load of the gasket", symbol="W_m1", formula="π/4 G² p + 2 b π G m p",
              source=f"{APP2}, 2-5(c)(1); m: {{gasket.source}}", after=("low_in_operation",),
              puts={"G": ("seat.diameter", "length"), "p": ("gasket_pressure", "pressure"),
                    "b": ("seat.effective_width", "length"), "m": ("gasket.m", "number")})  # fmt: skip
def gasket_operating_load(seat: gk.Seat, gasket: Gasket, gasket_pressure: float) -> float:
    return gk.operating_load(seat, gasket_pressure, gasket.m)


@SHEET.check("gasket_operating", "gasket load in operation, all bolts, {case.name}", CASE, sense="at least", kind="force",
             basis=f"{APP2}, 2-5(c)(1)", quiet=True)  # fmt: skip
def kept_tight(gasket_operating_load: float, extra: float, low_in_operation: float) -> Against:
    return Against(gasket_operating_load + max(extra, 0.0), low_in_operation)
