"""A small invented job for the fitter's screen, with assessment results given, not computed."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.assess.context import NOTHING, Observed
from splitline.assess.details import FitDetail
from splitline.assess.fit_steps import Limit, MountingStep
from splitline.assess.result import Caution, ItemResult
from splitline.assess.settings import JointSettings, SetTool, SizeSettings
from splitline.bolting.tools import Chart
from splitline.plan.model import Plan
from splitline.ui.work.desk import Desk
from tests.record.helpers import Ticking

PLAN = """format = 1
[plan]
title = "Recycle machine close-up"
revision = "B"
crew = ["Ines", "Tomas", "Aiko"]

[[joint]]
id = "head"
title = "Discharge head cover"
[joint.friction]
lubricant = "molybdenum disulfide paste"
[joint.layout]
shape = "circle"
bolts = {bolts}
diameter = "1180 mm"
first_at = "7.5 deg"
seen_from = "outside, facing the cover"
[joint.tightening]
method = "hydraulic wrench"
snug = 0.1
passes = [0.5, 1.0]
[[joint.tightening.tool]]
name = "wrench W1"
serial = "W1-118"
calibration_due = 2099-01-01
[[joint.tightening.tool]]
name = "wrench W2"

[joint.acceptance]
stretch_low = "0.36 mm"
stretch_high = "0.46 mm"

[[clearance]]
id = "float"
title = "Total float"
kind = "measure"
low = "0.25 mm"
high = "0.40 mm"

[[fit]]
id = "collar"
title = "Thrust collar"

[[window]]
id = "open-time"
title = "Compound open time"
from = "bead.start"
to = "studs.done"
at_most = "45 min"

[[step]]
id = "bead"
text = "Lay the bead"
[[step]]
id = "studs"
text = "Discharge head studs"
joint = "head"
hold = "lead"
[[step]]
id = "measure-float"
text = "Total float"
clearance = "float"
[[step]]
id = "mount"
text = "Thrust collar on"
fit = "collar"
"""


def _joint_results(bolts: int) -> dict[str, Any]:
    half = bolts // 2
    final = [560e3 + 1e3 * n for n in range(bolts)]
    return {
        "order_steps": [[n, n + half] for n in range(1, half + 1)],
        "torque": 3420.0,
        "predicted_passes": [[load * share for load in final] for share in (0.1, 0.5, 1.0, 1.0)],
    }


W1 = SetTool("wrench W1", "pressure", 0.0, 6840.0, Chart((0.0, 580e5), (0.0, 6840.0)))
W2 = SetTool("wrench W2", "pressure", 2000.0, 6840.0, Chart((590e5 * 2000 / 6840, 590e5), (2000.0, 6840.0)))


def joint_settings(*tools: SetTool) -> JointSettings:
    """290 bar on W1 at the target, 295 bar on W2, whose chart does not come down to half of it; read to 5 bar."""
    return JointSettings((SizeSettings((), None, 3420.0, None, tools or (W1,)),), "pressure", 5e5, None, (0.5, 1.0))


_MOUNTING = (
    MountingStep(1, "zero", "Seat the collar by hand force. Measure the zero twice.",
                 log=(Limit("zero_repeat", "difference of two zeros", "length", None, 0.02e-3),), sign="hold"),
    MountingStep(2, "hold", "Wait with the ram holding: the oil must leave the fit.", wait=600.0),
    MountingStep(3, "lock", "Fit and lock the nut."),
)  # fmt: skip


def assessor(plan: Plan, folder: Path, observed: Observed = NOTHING) -> Assessment:
    """What an assessment of the plan above would say."""
    found: list[ItemResult] = []
    for joint in plan.joints:
        bolts = joint.layout.bolts if joint.layout and joint.layout.bolts else 8
        caution = Caution("reaction", "Keep hands off the reaction arm.")
        results, sets = _joint_results(bolts), joint_settings()
        found.append(ItemResult("joint", joint.id, joint.title, "ok", results, cautions=(caution,), settings=sets))
    found += [ItemResult("clearance", each.id, each.title, "ok") for each in plan.clearances]
    found += [ItemResult("fit", each.id, each.title, "ok", fit=FitDetail(_MOUNTING)) for each in plan.fits]
    return Assessment(plan, tuple(found), "0123abcd", dt.date(2027, 3, 1))


def plan_file(folder: Path, bolts: int = 8, text: str = PLAN) -> Path:
    path = folder / "cover.toml"
    path.write_text(text.replace("{bolts}", str(bolts)), "utf-8")
    return path


def desk(path: Path, person: str = "Ines", clock: Any = None, **more: Any) -> Desk:
    found = Desk(path, clock or Ticking(), assessor, **more)
    if person:
        found.take_seat(person)
    return found
