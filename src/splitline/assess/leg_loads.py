"""What each leg of a lift has to be rated for: the same load its parts are checked against."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def leg_loads(results: Mapping[str, Any]) -> list[float]:
    """N of each leg: the greater of its share by rule and the worst over lengths and centre; empty where neither is known."""
    known = [values for key in ("leg_tension_worst", "leg_tension_design") if (values := results.get(key))]
    return [max(each) for each in zip(*known, strict=False)]
