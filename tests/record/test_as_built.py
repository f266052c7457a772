"""As-built tables and their exports."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import pytest

from splitline.record.as_built import AsBuilt, build
from splitline.record.entry import Accepted, Entry, Measured, Note, SetAside, Signed, WrongEntry
from splitline.record.export import columns, csv_text, json_text
from splitline.record.job import ItemPlan, Job, StepPlan
from splitline.record.journal import Record
from splitline.record.markdown import markdown
from tests.record.helpers import START, joint, numbered, pull, uid

JOB = Job(
    "Close-up | of the *machine*",
    "B",
    (joint(rounds=0),),
    (ItemPlan("clearance", "float", "Total float"), ItemPlan("lift", "head-lift", "Cover lift")),
    (StepPlan("studs", "Head studs", "joint", "head", hold="lead"),),
)


def reading(item: str, what: str, value: float, bolt: int | None = None, **more: object) -> Measured:
    data = {"uid": uid(), "done_by": "A. Fitter", "item": item, "what": what, "value": value, "quantity": "length"}
    return Measured(**data | {"bolt": bolt} | more)


@pytest.fixture(name="entries")
def entries_fixture() -> tuple[Entry, ...]:
    acts: list[Entry] = [
        Signed(
            uid=uid(), done_by="A. Fitter", act="set-up", joint="head", pass_="snug", lubricant="paste", batch="=1+1"
        ),
        pull(1, 5, pass_="snug", torque=340.0, pressure=29e5),
        pull(2, 6, pass_="snug", torque=340.0),
        WrongEntry(uid=uid(), done_by="A. Fitter", entry=3, reason="was stud 3"),
        SetAside(uid=uid(), done_by="A. Fitter", joint="head", pass_="snug", bolts=(8,), reason="galled <b>"),
        reading("head", "stretch", 4.1e-4, bolt=1, low=3.6e-4, high=4.6e-4, typed="0.41 mm"),
        reading("head", "gap", 2e-5, at="3 o'clock"),
        reading("float", "as left", 6e-4, low=2.5e-4, high=4e-4, typed="=0.60 mm"),
        Accepted(uid=uid(), done_by="D. Lead", stop="reading, entry 8", reason="per drawing rev D"),
        Note(uid=uid(), done_by="A. Fitter", topic="handover", text="stud 8 is galled"),
    ]
    return numbered(acts)


@pytest.fixture(name="built")
def built_fixture(entries: tuple[Entry, ...]) -> AsBuilt:
    return build(JOB, Record(entries, len(entries), "ab" * 32), START)


def test_tables_tell_what_was_done_to_each_bolt(built: AsBuilt) -> None:
    head = built.joints[0]
    assert (head.passes, head.closed) == (("snug", "1", "2"), (False, False, False))
    lines = {line.bolt: line for line in head.bolts}
    assert list(lines) == list(range(1, 9))
    done = lines[1].pulls[0]
    assert done is not None
    assert (done.number, done.torque) == (2, 340.0)
    assert lines[2].pulls == (None, None, None)
    assert [entry.what for entry in lines[1].readings] == ["stretch"]
    assert [entry.reason for entry in lines[8].aside] == ["galled <b>"]
    assert [entry.what for entry in head.readings] == ["gap"]
    assert [entry.batch for entry in head.set_ups] == ["=1+1"]


def test_deviations_wrong_entries_and_signatures_are_listed(built: AsBuilt) -> None:
    assert [(d.key, d.accepted.done_by if d.accepted else "") for d in built.deviations] == [
        ("reading, entry 8", "D. Lead")
    ]
    (struck,) = built.wrong_entries
    assert struck.entry is not None
    assert (struck.entry.number, struck.by.reason) == (3, "was stud 3")
    assert [entry.verdict for entry in built.clearances[0].readings] == ["outside"]
    assert built.lifts[0].readings == ()
    assert [state.state for state in built.steps] == ["now", "waits", "waits"]


def test_json_is_json_without_the_unfinite(built: AsBuilt, entries: tuple[Entry, ...]) -> None:
    data = json.loads(json_text(built, entries), parse_constant=lambda name: pytest.fail(name))
    assert data["count"] == 10
    assert data["joints"][0]["bolts"][0] == {"bolt": 1, "passes": [2, None, None], "readings": [6], "set_aside": []}
    assert data["entries"][5]["value"] == 4.1e-4
    assert data["deviations"][0]["reason"] == "per drawing rev D"


def test_csv_has_one_line_a_fact_and_runs_no_formula(built: AsBuilt) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(built))))
    assert tuple(rows[0]) == columns()
    kinds = [(row["kind"], row["bolt"]) for row in rows if row["entry"] and row["kind"] != "deviation"]
    assert kinds == [
        ("set-up", ""), ("tightened", "1"), ("tightened", "5"), ("struck tightened", "2"), ("struck tightened", "6"),
        ("wrong entry", ""), ("set aside", ""), ("measured", "1"), ("measured", ""), ("measured", ""), ("accepted", ""),
        ("note", ""),
    ]  # fmt: skip
    by = {(row["entry"], row["bolt"]): row for row in rows if row["kind"] not in ("deviation", "step")}
    pull_1 = by["2", "1"]
    assert (pull_1["set torque N·m"], pull_1["set pressure bar"], pull_1["done by"]) == ("340", "29", "A. Fitter")
    assert (pull_1["value"], pull_1["measured"]) == ("", "")
    assert (pull_1["done at"], pull_1["times in"]) == ("2027-03-01 06:02:00", "UTC+01:00")
    first = by["6", "1"]
    assert [first[name] for name in ("measured", "value", "unit", "at least", "at most", "verdict", "as typed")] == [
        "stretch", "0.41", "mm", "0.36", "0.46", "inside", "0.41 mm",
    ]  # fmt: skip
    assert first["set torque N·m"] == first["set pressure bar"] == ""
    assert (by["7", ""]["measured"], by["7", ""]["where"], by["7", ""]["value"]) == ("gap", "3 o'clock", "0.02")
    assert by["8", ""]["as typed"] == "'=0.60 mm"
    assert (by["3", "2"]["struck by entry"], by["3", "2"]["struck why"]) == ("4", "was stud 3")
    assert "set torque 340 N·m" in by["4", ""]["said"]
    assert not any(cell.lstrip("\n\u00a0 ").startswith(("=", "+", "@")) for row in rows for cell in row.values())


def test_csv_in_us_units_and_with_a_value_below_zero() -> None:
    acts = [pull(1, 5, torque=340.0, pressure=29e5), replace(reading("probe", "gap voltage", -9.5), quantity="voltage")]
    entries = numbered(acts)
    rows = list(csv.DictReader(io.StringIO(csv_text(build(JOB, Record(entries, 2), START), us=True))))
    assert (rows[0]["set torque ft·lbf"], rows[0]["set pressure psi"]) == ("250.8", "421")
    assert (rows[2]["value"], rows[2]["unit"]) == ("-9.5", "V")


def test_markdown_reads_and_markup_of_people_stays_text(built: AsBuilt) -> None:
    text = markdown(built)
    assert text.startswith("# As built: Close-up \\| of the \\*machine\\*\n")
    assert (
        "| 1 | set 29 bar, 340 N·m; 2027-03-01 06:02 A. Fitter | not done | not done | stretch 0.41 mm, inside (at"
        in text
    )
    assert "galled \\<b\\>" in text
    assert "accepted 2027-03-01 06:09 D. Lead: per drawing rev D" in text
    assert "entry 3 struck: was stud 3" in text
    assert "record code `" + "ab" * 32 in text
    assert "250.8 ft·lbf" in markdown(built, us=True)


def test_what_the_plan_no_longer_has_is_told_all_the_same() -> None:
    acts = [pull(1, 5, joint="old", torque=100.0), pull(2, 6, joint="old", pass_="2"), reading("bead", "length", 0.1)]
    entries = numbered(acts)
    built = build(JOB, Record(entries, len(entries)), START)
    assert [(joint.id, joint.passes) for joint in built.joints] == [("head", ("snug", "1", "2")), ("old", ("1", "2"))]
    assert [line.bolt for line in built.joints[1].bolts] == [1, 2, 5, 6]
    assert [(item.id, len(item.readings)) for item in built.others] == [("bead", 1)]
    assert csv_text(built).count("tightened,old") == 4
    assert "no longer in the plan" in markdown(built)
