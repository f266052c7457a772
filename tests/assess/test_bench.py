"""The bench: verdict rules, what is put on it, and how a missing input is said."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.assess import keys
from splitline.assess.bench import Bench
from splitline.assess.keys import Key
from splitline.assess.result import verdict_of, worst
from splitline.errors import InputError


@pytest.fixture(autouse=True)
def own_registry(monkeypatch: pytest.MonkeyPatch) -> None:
    declared = {
        k.key: k
        for k in (
            Key("preload", "force", "Preload", "F", "F = σ·A_s", "ISO 898-1"),
            Key("loads", "force", "Loads", shape="list"),
        )
    }
    monkeypatch.setattr(keys, "registry", lambda of: declared)


@pytest.mark.parametrize(
    ("usage", "verdict"),
    [(0.0, "ok"), (0.9, "ok"), (0.91, "near"), (1.0, "near"), (1.0 + 1e-12, "near"), (1.001, "fails"), (None, "fails")],
)
def test_the_verdict_follows_the_usage(usage: float | None, verdict: str) -> None:
    assert verdict_of(usage) == verdict


@pytest.mark.parametrize(
    ("given_", "governs"),
    [
        ((), "ok"),
        (("ok", "near"), "near"),
        (("near", "on-site"), "on-site"),
        (("on-site", "missing"), "missing"),
        (("missing", "fails"), "fails"),
    ],
)
def test_the_worst_governs(given_: tuple[str, ...], governs: str) -> None:
    assert worst(given_) == governs  # type: ignore[arg-type]


def test_at_most_divides_demand_by_limit() -> None:
    check = Bench("joint", "j", "J").at_most("s", "Stress", 345e6, 720e6, "stress", "basis")
    assert check.usage == pytest.approx(345 / 720)
    assert check.unit == "Pa"
    assert check.said() == "345 MPa of 720 MPa"


def test_at_least_says_what_is_short() -> None:
    check = Bench("joint", "j", "J").at_least("c", "Clamp", 460e3, 425e3, "force", "basis")
    assert check.verdict == "fails"
    assert check.usage == pytest.approx(460 / 425)
    assert check.said() == "has 425 kN, needs 460 kN: short 35 kN"


@pytest.mark.parametrize("available", [0.0, -5e3])
def test_nothing_available_fails_without_a_usage(available: float) -> None:
    check = Bench("joint", "j", "J").at_least("c", "Clamp", 1e3, available, "force", "basis")
    assert (check.verdict, check.usage) == ("fails", None)


def test_a_limit_of_nothing_fails() -> None:
    assert Bench("joint", "j", "J").at_most("s", "Stress", 1.0, 0.0, "stress", "basis").verdict == "fails"


@given(st.floats(), st.floats())
def test_no_check_carries_nan_or_infinity(demand: float, limit: float) -> None:
    bench = Bench("joint", "j", "J")
    for check in (
        bench.at_most("a", "A", demand, limit, "force", ""),
        bench.at_least("b", "B", demand, limit, "force", ""),
    ):
        assert all(v is None or math.isfinite(v) for v in (check.demand, check.limit, check.usage))
        if not (math.isfinite(demand) and math.isfinite(limit)):
            assert check.verdict == "missing"


@pytest.mark.parametrize("value", [None, math.nan, math.inf, [1.0, math.nan], "text", True])
def test_what_is_not_a_number_stays_off_the_bench(value: object) -> None:
    bench = Bench("joint", "j", "J")
    bench.put("preload", value)
    assert bench.done().results == {}


def test_an_undeclared_result_is_a_programming_mistake() -> None:
    with pytest.raises(KeyError):
        Bench("joint", "j", "J").put("unheard_of", 1.0)


def test_arrays_become_plain_lists() -> None:
    import numpy as np

    bench = Bench("joint", "j", "J")
    bench.put("loads", np.array([[1.0, 2.0], [3.0, 4.0]]))
    assert json.dumps(bench.done().results) == '{"loads": [[1.0, 2.0], [3.0, 4.0]]}'


def test_working_keeps_the_numbers_put_in() -> None:
    bench = Bench("joint", "j", "J")
    bench.put("preload", 740e3, {"σ": (345e6, "stress"), "A_s": (2144e-6, "area"), "gone": (None, "area")})
    (line,) = bench.done().working
    assert [(p.symbol, p.value) for p in line.puts] == [("σ", 345e6), ("A_s", 2144e-6)]
    assert line.source == "ISO 898-1"


def test_refused_physics_is_a_missing_check_with_its_sentence() -> None:
    bench = Bench("joint", "j", "J")
    with bench.guard("stretch", "Stretch"):
        raise InputError("clamp length must be above 0")
    item = bench.done()
    assert item.verdict == "missing"
    assert item.checks[0].said() == "clamp length must be above 0"


def test_the_worst_check_marks_the_card() -> None:
    bench = Bench("joint", "j", "J")
    bench.at_most("a", "A", 95.0, 100.0, "force", "")
    bench.at_most("b", "B", 99.0, 100.0, "force", "")
    bench.at_most("c", "C", 10.0, 100.0, "force", "")
    item = bench.done()
    assert item.verdict == "near"
    assert item.worst_check is not None
    assert item.worst_check.key == "b"
