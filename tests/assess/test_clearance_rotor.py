"""Place in the float, shims of both sides and out of a set, a probe over the float. Geometry, computed by hand."""

from __future__ import annotations

import datetime as dt
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from splitline.assess.clearance import assess_clearance
from splitline.assess.context import Context, Observed
from splitline.assess.result import ItemResult
from splitline.fitting.shims import pack
from splitline.library.store import Library
from splitline.plan.model import Clearance
from splitline.ui.work import acts
from tests.ui.test_work_demo import desk_at

LIBRARY = Library.load()


def clearance(seen: dict[str, float] | None = None, **entry: Any) -> ItemResult:
    item = Clearance.model_validate({"id": "c", "title": "Place"} | entry)
    observed = Observed({("c", name): value for name, value in (seen or {}).items()})
    return assess_clearance(item, Context(LIBRARY, dt.date(2026, 11, 25), observed))


def verdict(result: ItemResult, key: str) -> str:
    return next(check.verdict for check in result.checks if check.key == key)


FLOAT = {"kind": "float-split", "low": "7.6 mm", "high": "8.4 mm", "split": 0.48, "split_tolerance": "0.05 mm"}


def test_a_float_is_split_48_to_52_with_its_tolerance_and_cold_growth() -> None:
    r = clearance({"as_left": 8e-3}, **FLOAT, growth="0.15 mm").results
    assert (r["active_side"], r["position_cold"]) == pytest.approx((3.84e-3, 3.69e-3))
    assert (r["position_low"], r["position_high"]) == pytest.approx((3.64e-3, 3.74e-3))


@pytest.mark.parametrize(("place", "said"), [(None, "on-site"), (3.87e-3, "ok"), (3.9e-3, "fails"), (3.78e-3, "fails")])
def test_where_the_rotor_was_set_is_read_and_judged(place: float | None, said: str) -> None:
    seen = {"as_left": 8e-3} | ({} if place is None else {"position_set": place})
    found = clearance(seen, **FLOAT)
    assert verdict(found, "position_set").replace("near", "ok") == said


def test_a_rotor_that_would_rub_on_a_thrust_face_fails() -> None:
    r = clearance({"as_left": 8e-3}, **FLOAT, thrust_float="0.4 mm")
    assert (r.results["position_active"], r.results["position_inactive"]) == pytest.approx((3.64e-3, 4.04e-3))
    assert (
        verdict(clearance({"as_left": 8e-3}, **(FLOAT | {"split": 0.02}), thrust_float="0.4 mm"), "thrust_faces")
        == "fails"
    )


SHIM = {"kind": "shim", "low": "0.28 mm", "high": "0.38 mm", "wanted": "0.33 mm", "shim": "6.35 mm", "side": "outboard"}


def test_shims_of_both_sides_set_float_and_place_at_once() -> None:
    r = clearance({"as_found": 0.48e-3}, **SHIM, position="3.90 mm", wanted_position="4.00 mm").results
    # 0.10 mm more behind the active shoes moves the rotor there; the float wants 0.15 mm in all, 0.05 mm of it inactive
    assert (r["shim_active"], r["shim_inactive"]) == pytest.approx((0.10e-3, 0.05e-3))
    assert verdict(clearance({"as_found": 0.48e-3}, **SHIM, wanted_position="4.00 mm"), "shim_sides") == "missing"


def test_the_pack_is_picked_out_of_the_set() -> None:
    r = clearance({"as_found": 0.48e-3}, **SHIM, shim_set=["6.00 mm", "0.20 mm", "0.30 mm", "6.40 mm"])
    assert r.results["shim_pack"] == pytest.approx(6.5e-3)  # 6.00 + 0.20 + 0.30: 6.40 alone is outside 6.45 to 6.55
    assert "6 mm + 0.3 mm + 0.2 mm" in next(c.note for c in r.checks if c.key == "shim_set")
    assert verdict(clearance({"as_found": 0.48e-3}, **SHIM, shim_set=["6.00 mm"]), "shim_set") == "fails"


def test_no_pack_is_smaller_or_nearer_than_the_one_picked() -> None:
    thick = [6.0e-3, 6.1e-3, 0.05e-3, 0.1e-3, 0.15e-3, 0.3e-3, 0.4e-3]
    for wanted in (6.05e-3, 6.2e-3, 6.35e-3, 6.55e-3, 6.7e-3):
        found = pack(thick, wanted - 0.03e-3, wanted + 0.03e-3, wanted)
        every = [c for n in range(1, 5) for c in combinations(thick, n) if abs(sum(c) - wanted) <= 0.03e-3 + 1e-9]
        assert (found is None) is (every == [])
        if found is not None:
            assert len(found) == min(map(len, every))
            assert abs(sum(found) - wanted) <= min(abs(sum(c) - wanted) for c in every if len(c) == len(found)) + 1e-12


@pytest.mark.parametrize(("axial", "said"), [("0.33 mm", "ok"), ("2.4 mm", "fails")])
def test_a_probe_set_at_mid_float_stays_linear_at_both_stops(axial: str, said: str) -> None:
    r = clearance(kind="probe", low="1.15 mm", high="1.35 mm", sensitivity=7.87, axial_float=axial)
    assert r.results["probe_set"] == pytest.approx(-9.8375)
    assert verdict(r, "probe_float") == said


def test_the_fitter_is_told_place_probe_and_pack(tmp_path: Path) -> None:
    at = desk_at(tmp_path, 'clearance = "total-float"')
    first = at.task()[1]
    acts.read(at, first, first.readings[-1], 8e-3, "8 mm")
    now = at.task()[1]
    place = next(each for each in now.figures if each.caption == "from the active stop")
    assert (place.text, place.unit, place.accepted) == ("3.84", "mm", "3.79 to 3.89")
    assert now.readings[1].judge(3.9e-3) == "outside"
    other = tmp_path / "other"  # another plan under the record of the first would be a stop
    other.mkdir()
    probe = desk_at(other, 'clearance = "axial-probe"').task()[1]
    assert "set at mid-float" in {each.caption for each in probe.figures}
