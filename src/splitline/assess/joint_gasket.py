"""A gasketed closure after ASME VIII-1 Appendix 2: seating, operation, crushing."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.bolting import gasket as gk
from splitline.plan.model.joint import Case, Load

APP2 = "ASME VIII-1 Appendix 2"


@dataclass(frozen=True, slots=True)
class Gasket:
    """The gasket of a joint as read from plan and library."""

    seat: gk.Seat
    m: float
    y: float
    limit: float | None
    source: str
    limit_source: str


def gasket_of(bench: Bench, ctx: Context, load: Load) -> Gasket | None:
    """The gasket, or a missing check that names what is not given."""
    row = ctx.library.get("gaskets", load.gasket) if load.gasket else None
    m = load.gasket_m if load.gasket_m is not None else (row["m"] if row is not None else None)
    y = load.gasket_y if load.gasket_y is not None else (row["y"] if row is not None else None)
    named = (("gasket_width", load.gasket_width), ("gasket_m", m), ("gasket_y", y))
    needs = [f"load.{name}" for name, value in named if value is None]
    if load.gasket_inner is None and load.pressure_diameter is None:
        needs.append("load.gasket_inner")
    if load.gasket and row is None and (m is None or y is None):
        bench.missing(
            "gasket_seating", "gasket seating", ("load.gasket",), APP2, f'"{load.gasket}" is not in the library'
        )
        return None
    if needs or load.gasket_width is None or m is None or y is None:
        bench.missing("gasket_seating", "gasket seating", needs, APP2, "needs " + ", ".join(needs), sense="at least")
        return None
    source = row.source if row is not None else "plan"
    with bench.guard("gasket_seating", "gasket seating", APP2):
        seat = _seat(bench, load, load.gasket_width)
        limit, limit_source = load.gasket_limit, "plan"
        if limit is None and row is not None and row.get("crush") is not None:
            limit, limit_source = row["crush"], row.get("note", "") or row.source
        if limit is None and y > 0.0:
            limit, limit_source = gk.crush_limit(y), f"2 y, {APP2}: least gasket width"
        return Gasket(seat, m, y, limit, source, limit_source)
    return None


def _seat(bench: Bench, load: Load, width: float) -> gk.Seat:
    """Seating from the gasket's own diameters, or with its reaction diameter taken as the pressure diameter."""
    if load.gasket_inner is not None:
        return gk.seat(load.gasket_inner + 2.0 * width, load.gasket_inner)
    diameter = load.pressure_diameter or 0.0
    bench.default("load.gasket_inner", f"G = {bench.show(diameter, 'length')}", "the pressure diameter stands for G")
    return gk.seat_at(diameter, width)


def put_gasket(bench: Bench, gasket: Gasket, bolts: int, low: float, high: float) -> None:
    """Seating at low preload and crushing at high preload; low and high are sums over all bolts, N."""
    seat = gasket.seat
    bench.put("gasket_diameter", seat.diameter)
    bench.put("gasket_effective_width", seat.effective_width, {"N": (seat.width, "length")})
    need = gk.seating_load(seat, gasket.y)
    puts = {"b": (seat.effective_width, "length"), "G": (seat.diameter, "length"), "y": (gasket.y, "stress")}
    bench.put("gasket_seating_load", need, {**puts}, source=f"{APP2}, 2-5(c)(2); y: {gasket.source}")
    basis = f"{APP2}, 2-5(c)(2); gasket factors: {gasket.source}"
    bench.at_least("gasket_seating", "gasket seating at low preload, all bolts", need, low, "force", basis)
    stress = gk.gasket_stress(seat, high)
    bench.put(
        "gasket_stress_high",
        stress,
        {
            "n": (float(bolts), "count"),
            "F_high": (high / bolts, "force"),
            "G": (seat.diameter, "length"),
            "N": (seat.width, "length"),
        },
    )
    title = "gasket pressure at high preload"
    if gasket.limit is None:
        bench.missing("gasket_crush", title, ("load.gasket_limit",), APP2, "needs load.gasket_limit", kind="stress")
    else:
        bench.at_most("gasket_crush", title, stress, gasket.limit, "stress", gasket.limit_source)


def check_operation(bench: Bench, lines: Lines, case: Case, gasket: Gasket, low: float, extra: float) -> None:
    """W_m1 of a case, with the other opening force, against the low preload of all bolts with temperature, N."""
    if case.pressure is None:
        return
    seat, pressure = gasket.seat, max(case.pressure, 0.0)
    need = gk.operating_load(seat, pressure, gasket.m)
    lines.put(
        "gasket_operating_load",
        need,
        {
            "G": (seat.diameter, "length"),
            "p": (pressure, "pressure"),
            "b": (seat.effective_width, "length"),
            "m": (gasket.m, "number"),
        },
        source=f"{APP2}, 2-5(c)(1); m: {gasket.source}",
    )
    title = f"gasket load in operation, all bolts, {case.name}"
    bench.at_least("gasket_operating", title, need + max(extra, 0.0), low, "force", f"{APP2}, 2-5(c)(1)")
