"""Oil pressure on and off a fit: the least of drawing, pump and yield stands on every step; nothing is told above it."""

from __future__ import annotations

import math

import pytest

from splitline.assess.context import Context, Observed
from splitline.assess.fit import assess_fit
from splitline.assess.fit_measured import FACE, LOCKED
from splitline.assess.fit_steps import MountingStep
from splitline.assess.result import ItemResult
from splitline.plan.model import Fit
from splitline.record.judged import judged
from splitline.ui.work.observed import _NAMES
from tests.assess.test_fit import CTX, HUB, check, fit

RING = (180**2 + 100**2) / (180**2 - 100**2)  # Lamé: tangential stress at the bore over pressure
PER = math.sqrt(RING**2 + 1 + RING)  # von Mises over pressure; radial is the pressure itself
TAPER = {"taper": "1:20", "advance_tolerance": "0.2 mm"}


def steps(result: ItemResult, kind: str = "mounting") -> dict[str, MountingStep]:
    return {step.name: step for step in getattr(result.fit, kind)}


def with_zero(zero: float, **changes: object) -> ItemResult:
    entry = {key: value for key, value in (HUB | TAPER | changes).items() if value is not None}
    seen = Observed({("hub", "zero"): zero})
    return assess_fit(Fit.model_validate(entry), Context(CTX.library, CTX.today, seen))


def test_a_removal_that_yields_the_hub_fails() -> None:
    # Lamé at the bore of 100/180: tangential p (D²+d²)/(D²-d²) = 1.893 p, radial -p; von Mises 2.548 p (hand computation)
    yields = 400e6 / (1.07 * PER)  # 7 % of bending between the seals, finite elements
    result = fit(**TAPER, hub_yield="400 MPa")
    assert result.results["oil_yield_pressure"] == pytest.approx(yields, rel=1e-4)
    assert check(result, "removal_pressure").verdict == "fails"
    assert check(fit(**TAPER), "removal_pressure").verdict in ("ok", "near")
    assert check(fit(**TAPER, hub_yield=None), "removal_pressure").verdict == "missing"
    assert check(fit(**TAPER, max_expansion_pressure=None), "removal_pressure").verdict == "missing"


@pytest.mark.parametrize(
    ("changes", "most"),
    [
        ({"max_expansion_pressure": "1700 bar"}, 1700e5),
        ({"max_expansion_pressure": "2500 bar", "max_pump_pressure": "1500 bar"}, 1500e5),
        ({"max_expansion_pressure": "4000 bar"}, 600e6 / (1.07 * PER)),
    ],
)
def test_no_step_on_or_off_accepts_a_pressure_above_the_least_limit(changes: dict[str, str], most: float) -> None:
    result = fit(**TAPER, **changes)
    assert result.results["oil_pressure_limit"] == pytest.approx(most, rel=1e-4)
    for kind in ("mounting", "removal"):
        for step in steps(result, kind).values():
            for limit in (*step.limits, *step.log):
                if limit.name == "bore_pressure":
                    assert limit.high is not None
                    assert limit.high <= most * (1 + 1e-9)
    off = steps(result, "removal")["up"].limits[0]
    assert off.high == pytest.approx(most, rel=1e-4)


def test_a_stage_is_reached_and_the_next_one_is_not() -> None:
    result = fit(**TAPER)
    half = steps(result)["up-50"].limits[0]
    middle, low = result.results["advance"], result.results["advance_low"]
    assert half.target == middle / 2
    assert (half.low, half.high) == pytest.approx((low * 0.5, low * 0.75))
    full = steps(result)["up-100"].limits[0]
    assert (full.low, full.high) == (low, result.results["advance_high"])


def test_every_stage_tells_its_figures_before_the_act() -> None:
    result = fit(**TAPER, ram_area="5000 mm^2")
    for name in ("up-25", "up-50", "up-75", "up-100"):
        told = {limit.name for limit in steps(result)[name].limits}
        assert told >= {"advance", "bore_pressure", "ram_force", "ram_pressure", "oil_limit"}
    held = {limit.name: limit.target for limit in steps(result)["hold"].limits}
    assert held["held"] == result.results["ram_pressure"]


def test_the_zero_turns_the_advance_into_the_dimension_that_is_read() -> None:
    result = with_zero(0.040)
    full = steps(result)["full"].log[0]
    assert full.title == FACE
    assert (full.low, full.target, full.high) == pytest.approx((0.0368, 0.037, 0.0372))
    assert steps(fit(**TAPER))["full"].log[0].name == "advance"


def test_stop_zero_and_advance_must_agree_before_pressure() -> None:
    stop = {"stop_dimension": "37 mm", "stop_tolerance": "0.1 mm"}
    assert check(with_zero(0.040, **stop), "stop_from_zero").verdict == "ok"
    assert check(with_zero(0.0405, **stop), "stop_from_zero").verdict == "fails"
    assert check(fit(**TAPER, **stop), "stop_from_zero").verdict == "on-site"
    assert check(fit(**TAPER, stop_dimension="37 mm"), "stop_dimension").verdict == "missing"


def test_the_stop_dimension_is_asked_for_at_four_places() -> None:
    found = steps(fit(**TAPER, stop_dimension="37 mm", stop_tolerance="0.1 mm"))["stop"].log
    assert len({limit.title for limit in found}) == 4
    assert {(limit.low, limit.high) for limit in found} == {(0.037 - 0.0001, 0.037 + 0.0001)}


# Shaft 1:20 over 60 mm between the planes: 3 mm thinner; the bore 2 µm less steep (arithmetic).
SHAFT = ["101.000 mm", "101.002 mm", "98.000 mm", "98.002 mm"]


def bore(steeper: float) -> list[str]:
    """A bore of 1:20 that opens by so much more (mm) over the 60 mm between its planes."""
    return [f"{100.8 + steeper:.4f} mm"] * 2 + ["97.8 mm"] * 2


@pytest.mark.parametrize(("steeper", "said"), [(0.002, "ok"), (-0.002, "ok"), (0.009, "fails"), (-0.009, "fails")])
def test_diameters_of_a_taper_tell_whether_the_tapers_are_alike(steeper: float, said: str) -> None:
    """120 mm of contact: twice what the 60 mm between the planes differ by; a tenth of the least 0.14 mm is allowed."""
    result = fit(**TAPER, gauge_distance="60 mm", measured={"shaft": SHAFT, "hub": bore(steeper)})
    assert result.results["taper_shaft_one_in"] == pytest.approx(20.0)
    assert result.results["taper_hub_one_in"] == pytest.approx(60 / (3 + steeper))
    assert result.results["taper_difference"] == pytest.approx(2 * abs(steeper) * 1e-3)
    assert check(result, "tapers").verdict == said
    given = fit(
        **TAPER, gauge_distance="60 mm", taper_tolerance="1 um", measured={"shaft": SHAFT, "hub": bore(steeper)}
    )
    assert check(given, "tapers").verdict == "fails"


@pytest.mark.parametrize(
    "changes",
    [
        {"measured": {"shaft": SHAFT, "hub": SHAFT}},  # no distance between the planes
        {"gauge_distance": "60 mm", "measured": {"shaft": SHAFT}},
        {"gauge_distance": "60 mm", "measured": {"shaft": SHAFT[:2], "hub": SHAFT}},
    ],
)
def test_diameters_of_a_taper_are_never_ignored(changes: dict[str, object]) -> None:
    assert check(fit(**TAPER, **changes), "tapers").verdict == "missing"


def test_a_taper_measured_from_its_thin_end_fails() -> None:
    back = fit(**TAPER, gauge_distance="60 mm", measured={"shaft": SHAFT[::-1], "hub": SHAFT[::-1]})
    assert check(back, "tapers").verdict == "fails"
    assert check(fit(**TAPER, gauge_distance="60 mm"), "tapers").verdict == "on-site"


def test_the_screen_asks_for_both_tapers_where_their_planes_are_known() -> None:
    asked = steps(fit(**TAPER, gauge_distance="60 mm"))["contact"].log
    assert {_NAMES[limit.title] for limit in asked} >= {f"{p}.{n}" for p in ("shaft", "hub") for n in range(1, 5)}
    assert [limit.name for limit in steps(fit(**TAPER))["contact"].log] == ["contact"]


@pytest.mark.parametrize(("face", "said"), [(0.0370, "ok"), (0.0374, "fails"), (0.0366, "fails")])
def test_the_interference_that_was_made_follows_from_zero_and_the_locked_face(face: float, said: str) -> None:
    """Zero 40 mm, locked at 37 mm: 3 mm up a 1:20 taper makes 0.15 mm (by hand); drawn 0.14 to 0.16 mm."""
    entry = {key: value for key, value in (HUB | TAPER).items() if value is not None}
    seen = Observed({("hub", "zero"): 0.040, ("hub", _NAMES[LOCKED[FACE]]): face})
    result = assess_fit(Fit.model_validate(entry), Context(CTX.library, CTX.today, seen))
    assert result.results["advance_made"] == pytest.approx(0.040 - face)
    assert result.results["measured_interference"] == pytest.approx((0.040 - face) / 20)
    own = {c.verdict for c in result.checks if c.key.startswith("measured_interference")}
    assert ("fails" in own) is (said == "fails")
    last = steps(with_zero(0.040))["lock"].log[0]  # the screen judges the dimension by the same limits
    assert last.title == LOCKED[FACE]
    assert (judged(face, last.low, last.high, "length") == "outside") is (said == "fails")


@pytest.mark.parametrize("zero", [0.0397, 0.0399, 0.0401, 0.0403, 0.0404])
def test_a_zero_that_cannot_meet_the_stop_is_outside_on_the_screen_and_fails_in_check(zero: float) -> None:
    stop = {"stop_dimension": "37 mm", "stop_tolerance": "0.1 mm"}
    reading = steps(fit(**TAPER, **stop))["zero"].log[0]
    outside = judged(zero, reading.low, reading.high, "length") == "outside"
    assert outside is (check(with_zero(zero, **stop), "stop_from_zero").verdict == "fails")


def test_the_stop_in_place_is_a_signed_hold_on_the_way_up_as_on_the_way_off() -> None:
    assert steps(fit(**TAPER))["stop-in-place"].sign == "hold"
    assert steps(fit())["stop-in-place"].sign == "hold"
    assert steps(fit(**TAPER), "removal")["stop-in-place"].sign == "hold"


def test_stress_of_the_shaft_at_speed_counts_the_greater_pressure_and_its_own_expansion() -> None:
    """A hub that grips more once warm: the shaft is stressed by the warm pressure, which counts the shaft's own growth."""
    warm = {"hub_temperature": "20 degC", "shaft_temperature": "80 degC", "speed": "3000 rpm"}
    cold, hot = fit(speed="3000 rpm").results, fit(**warm).results
    assert hot["shaft_stress_at_speed"] > cold["shaft_stress_at_speed"]
    assert hot["temperature_loss"] == pytest.approx(-0.1 * 11.4e-6 * 60)
    brass = fit(**warm, hub_expansion="19e-6 1/K").results
    assert brass["temperature_loss"] == pytest.approx(hot["temperature_loss"])
    loosened = {"hub_temperature": "80 degC", "shaft_temperature": "20 degC", "speed": "3000 rpm"}
    assert fit(**loosened).results["shaft_stress_at_speed"] == pytest.approx(cold["shaft_stress_at_speed"])
