"""Sheets of the as-built dossier: a front page to sign, the order of work, joints, items, deviations, signatures, the register."""

from __future__ import annotations

from splitline.assess.assessment import Assessment
from splitline.plan.model import Plan
from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt
from splitline.record.runs import common_device, runs_of
from splitline.report.blocks import Para, Sheet, Strong, Table
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets.common import Options
from splitline.report.sheets.dossier_front import front_sheet, work_as_done
from splitline.report.sheets.dossier_items import items_sheet
from splitline.report.sheets.dossier_joint import joint_as_built
from splitline.report.sheets.dossier_lists import answers_sheet
from splitline.report.sheets.dossier_trace import trace_sheet
from splitline.report.sheets.names import names_of
from splitline.units import System

FEW = 12  # rows of the register that need no page of their own


def dossier_sheets(plan: Plan, assessment: Assessment, built: AsBuilt, options: Options) -> tuple[Sheet, ...]:
    """All sheets. What is not begun has none: the front page names it."""
    names = names_of(plan)
    sheets = [front_sheet(plan, built, names), work_as_done(built, assessment, names, options)]
    studs = {(f.entry, f.bolt): f for f in built.facts if isinstance(f, kinds.StudValue)}
    for joint in built.joints:
        own = next((each for each in plan.joints if each.id == joint.id), None)
        if (
            joint.set_ups
            or joint.readings
            or any(line.readings or line.aside or any(line.pulls) for line in joint.bolts)
        ):
            sheets.append(
                joint_as_built(joint, own, assessment.find("joint", joint.id), options, studs, built.revision)
            )
    sheets.append(items_sheet(built, plan, assessment, options))
    sheets.append(trace_sheet(built, names))
    sheets.append(answers_sheet(built, options.system, names))
    sheets.append(_register(built, options.system))
    return tuple(sheet for sheet in sheets if sheet.blocks)


def _register(built: AsBuilt, system: System) -> Sheet:
    device = common_device(built.facts)
    rows = tuple((Strong(run.numbers), run.revision, run.text, run.who) for run in runs_of(built.facts, system, device))
    head = ("Entry", "Rev.", "Action", "When, by")
    where = f" Where no device is named: at {device}." if device else ""
    note = Para(
        "Appendix: every entry as it stands, struck ones too. What entries of a run say alike stands once before them; each "
        f"then stands in brackets with its own.{where}",
        "small",
    )
    table = Table(head, rows, (0.6, 0.4, 6.6, 2.2), small=True)
    return Sheet("dossier", "", "Every entry", (note, table) if rows else (), words.WHAT, follows=len(rows) <= FEW)
