"""Joints for the tests: one sound joint as text, changed line by line, read as a plan would be."""

from __future__ import annotations

import datetime as dt
import tomllib
from typing import Any

from splitline.assess.context import NOTHING, Context, Observed
from splitline.assess.joint import assess_joint
from splitline.assess.result import Check, ItemResult
from splitline.library.store import Library
from splitline.plan.check import check_item
from splitline.plan.model.joint import Joint
from splitline.plan.names import Names

TODAY = dt.date(2026, 11, 25)
LIBRARY = Library.load()

HEAD = """
id = "head"
title = "Head cover"
[bolting]
thread = "M48x3"
grade = "ASTM A193 B7"
kind = "stud"
clamp_length = "268 mm"
shank_diameter = "44 mm"
shank_length = "180 mm"
engagement = "70 mm"
tapped_strength = "485 MPa"
hole_diameter = "52 mm"
bearing_diameter = "74 mm"
bearing_limit = "490 MPa"
modulus = "205 GPa"
expansion = "12e-6 1/K"
[friction]
thread = 0.12
bearing = 0.12
[layout]
shape = "circle"
bolts = 24
diameter = "1180 mm"
[target]
bolt_stress = "345 MPa"
source = "drawing 1"
[load]
pressure_diameter = "1010 mm"
seal = "o-ring"
assembly_temperature = "20 degC"
[[case]]
name = "design"
pressure = "60 bar"
[member]
modulus = "200 GPa"
expansion = "11.5e-6 1/K"
outer_diameter = "1330 mm"
inner_diameter = "1030 mm"
flange_thickness = "150 mm"
[tightening]
method = "torque wrench"
snug = 0.1
passes = [0.3, 0.6, 1.0]
scatter = 0.25
relaxation = 0.05
[[tightening.tool]]
name = "T1"
serial = "1"
torque_max = "5000 N*m"
calibration_due = 2027-03-01
"""


def raw_joint(text: str = HEAD, **changes: Any) -> dict[str, Any]:
    """The joint's table; ``bolting__thread="M36"`` changes a value, None takes it out, dots in keys are ``__``."""
    raw = tomllib.loads(text)
    for key, value in changes.items():
        *path, last = key.split("__")
        node: Any = raw
        for step in path:
            node = node[int(step)] if step.isdigit() else node.setdefault(step, {})
        if value is None:
            node.pop(last, None)
        else:
            node[last] = value
    return raw


def joint(text: str = HEAD, **changes: Any) -> Joint:
    """A joint that reads cleanly."""
    checked = check_item("joint", raw_joint(text, **changes), Names.of(LIBRARY))
    assert not checked.said, checked.said
    assert isinstance(checked.item, Joint)
    return checked.item


def assess(text: str = HEAD, observed: Observed = NOTHING, **changes: Any) -> ItemResult:
    """The joint assessed."""
    return assess_joint(joint(text, **changes), Context(LIBRARY, TODAY, observed))


def check(result: ItemResult, key: str, title: str = "") -> Check:
    """The one check of a key (whose title contains ``title``)."""
    found = [c for c in result.checks if c.key == key and title in c.title]
    assert len(found) == 1, (key, [c.title for c in result.checks if c.key == key])
    return found[0]
