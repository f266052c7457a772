"""Above the legs: rated load, compression and bending of spreader and lifting beam, its upper slings."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest

from splitline.lifting.spreader import Beam, hang_below
from tests.assess.lifts import assessed, check, legs, lift

G = 9.80665
MASS, CENTRE = 6000.0, (0.0, 0.0, -0.6)
END, REACH, UPPER = 1.5, 1.2, 2.2
CRANE = {"capacity": "20 t", "rigging": "200 kg", "block": "0 kg"}


def spread(**fields: Any) -> dict[str, Any]:
    """A spreader pressed by two upper slings at its ends."""
    return {
        "mass": "500 kg", "capacity": "10 t", "upper": [["1.5 m", "0 m", "0 m"], ["-1.5 m", "0 m", "0 m"]],
        "lower": [["1.5 m", "0 m", "0 m"], ["-1.5 m", "0 m", "0 m"]], "upper_length": "2.2 m",
        "upper_capacity": "200 kN", "upper_elongation": 1e-4, "compression_capacity": "100 kN",
    } | fields  # fmt: skip


def lifting_beam(**fields: Any) -> dict[str, Any]:
    """A lifting beam bent over one upper point in its middle; low enough to hang level by itself."""
    bent = {"upper": [["0 m", "0 m", "0.3 m"]], "upper_length": "1 m"}
    return {key: value for key, value in (spread() | bent | fields).items() if key != "compression_capacity"}


def on_beam(beam: dict[str, Any], legs_at: int = 2, **fields: Any) -> dict[str, Any]:
    y = (0.0,) if legs_at == 2 else (0.6, -0.6)
    picks = [(x, each, 0.0) for x in (END, -END) for each in y]
    rope = legs(
        picks, [REACH] * len(picks), capacity="200 kN", elongation=1e-4, fitting="lug", fitting_capacity="200 kN"
    )
    for number, leg in enumerate(rope):
        leg["beam_point"] = 1 + number // len(y)
    given = lift(MASS, CENTRE, rope, spreader=beam, length_tolerance=0.0, crane=CRANE)
    return given | {"mass_margin": 0.1, "dynamic": 1.2} | fields


def test_a_lifting_beam_without_a_rated_load_is_missing_and_over_it_fails() -> None:
    lacking = assessed(on_beam(_without(lifting_beam(), "capacity")))
    found = check(lacking, "spreader_rated")
    assert (found.verdict, found.needs) == ("missing", ("spreader.capacity",))
    assert lacking.verdict != "ok"
    weak = check(assessed(on_beam(lifting_beam(capacity="7 t"))), "spreader_rated")
    assert weak.demand == pytest.approx(MASS * G * 1.1 * 1.2)
    assert weak.verdict == "fails"
    assert check(assessed(on_beam(lifting_beam())), "spreader_rated").verdict == "ok"
    bare = assessed(on_beam(_without(lifting_beam(), "mass")))
    assert check(bare, "leg_tension").needs == ("spreader.mass",)


def test_a_beam_without_mass_is_asked_for_and_nothing_is_hung_on_it() -> None:
    weightless = assessed(on_beam(lifting_beam(mass="0 kg")))
    for key in ("leg_tension", "hook_load"):
        found = check(weightless, key)
        assert found.verdict == "missing"
        assert "spreader.mass" in found.needs
        assert "a beam has a mass" in found.note
        assert key not in weightless.results


def _without(beam: dict[str, Any], field: str) -> dict[str, Any]:
    return {key: value for key, value in beam.items() if key != field}


def test_a_lifting_beam_is_bent_as_the_textbook_says() -> None:
    """Two ends hung from the middle: half of the load times the arm, plus its own weight spread: W_b a/4 (statics)."""
    r = assessed(on_beam(lifting_beam())).results
    load, own = MASS * G * 1.1 * 1.2, (500 + 200) * G * 1.2
    assert r["spreader_bending"] == pytest.approx(load / 2 * END + own * END / 4, rel=2e-3)
    assert r["spreader_compression"] < 0.01 * load
    rated = on_beam(lifting_beam(bending_capacity="50 kN*m"))
    assert check(assessed(rated), "spreader_bending").verdict == "fails"


def test_upper_slings_carry_load_beam_and_rigging_with_the_dynamic_factor() -> None:
    """Closed form: half of k_d (W k_m + beam + rigging) over the sine of their angle, the same over its tangent presses."""
    r = assessed(on_beam(spread())).results
    whole, angle = 1.2 * (MASS * 1.1 + 500 + 200) * G, math.acos(END / UPPER)
    assert r["upper_tension"] == pytest.approx([whole / 2 / math.sin(angle)] * 2, rel=1e-3)
    assert r["upper_tension_worst"] == pytest.approx(r["upper_tension"], rel=1e-3)
    assert r["spreader_compression"] == pytest.approx(whole / 2 / math.tan(angle), rel=1e-3)
    assert r["hook_load"] == pytest.approx(whole)


def test_upper_slings_have_their_own_flattest_angle() -> None:
    flat = assessed(on_beam(spread(upper_length="1.6 m", upper_capacity="400 kN", compression_capacity="400 kN")))
    found = check(flat, "upper_angle")
    assert found.verdict == "fails"  # acos(1.5/1.6) = 20.4 degrees from the horizontal
    assert math.degrees(found.limit or 0) == pytest.approx(20.4, abs=0.1)
    assert check(assessed(on_beam(spread())), "upper_angle").verdict == "ok"


def test_compression_is_checked_at_the_worst_of_the_doubts() -> None:
    """Against single hangs at every corner of the lengths, the centre to either side."""
    doubt, shift = 0.01, 0.2
    given = on_beam(spread(), length_tolerance=doubt, centre_shift=f"{shift} m", centre_rise="0 m")
    result = assessed(given)
    found = check(result, "spreader_compression")
    own, load = (500 + 200) * G * 1.2, MASS * G * 1.1 * 1.2
    ends = ((END, 0.0, 0.0), (-END, 0.0, 0.0))
    hard, greatest = 200e3 / 1e-4, 0.0
    for signs in itertools.product((-1, 1), repeat=4):
        for side in (-shift, shift):
            first = [UPPER * (1 + doubt * s) for s in signs[:2]]
            bar = Beam(own, ends, ends, (first[0], first[1]), (hard, hard))
            lengths = [REACH * (1 + doubt * s) for s in signs[2:]]
            hung = hang_below(bar, ends, (0, 1), lengths, [hard] * 2, (side, 0.0, -0.6), load)
            greatest = max(greatest, abs(hung.compression))
    assert found.demand is not None
    assert found.demand >= 0.999 * greatest
    assert found.demand > 1.01 * result.results["spreader_compression"]
    assert found.demand == result.results["spreader_compression_worst"]


def test_the_sharing_rule_holds_under_a_spreader() -> None:
    result = assessed(on_beam(spread(), legs_at=4))
    angle = result.results["leg_angle"][0]
    assert min(result.results["leg_tension_design"]) >= 0.999 * MASS * G * 1.1 * 1.2 / (2 * math.sin(angle))
    assert any(each.field == "sharing" for each in result.defaults)
    even = assessed(on_beam(spread(), legs_at=4, sharing="all legs"))
    assert max(even.results["leg_tension_design"]) < 0.6 * max(result.results["leg_tension_design"])
