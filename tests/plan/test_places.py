"""One geometry of bolts: whoever draws a joint draws the same places."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from splitline.plan.model import Joint
from splitline.plan.model.joint import Layout
from splitline.plan.places import bolt_places
from splitline.report.pictures.bolt_map import places_of
from splitline.ui.scenes.joint import joint_scene
from splitline.ui.work import places as work


@pytest.mark.parametrize(
    "layout",
    [
        {"shape": "circle", "bolts": 9, "diameter": 1.2, "first_at": 0.2, "numbering": "counter-clockwise"},
        {"shape": "split-line", "side_a": (0.1, 0.3, 0.6), "side_b": (0.2, 0.9)},  # its width is not given
        {"shape": "split-line", "side_a": (0.1, 0.3), "half_width": 0.4},
        {"shape": "points", "points": ((0.0, 0.0), (1.0, 0.5), (0.3, 0.2))},
    ],
)
def test_screen_fitter_and_sheet_draw_bolts_at_the_same_places(layout: dict[str, Any]) -> None:
    joint = Joint.model_construct(id="j", title="J", layout=Layout.model_construct(**layout))
    plan = SimpleNamespace(find=lambda kind, ident: joint)
    scene = joint_scene(joint, None, "SI")
    assert scene is not None
    assert bolt_places(joint) == places_of(joint) == scene.places
    assert work.places_of(SimpleNamespace(plan=plan), "j") == places_of(joint)  # type: ignore[arg-type]
