"""The as-built dossier of a record with set-aside studs, wrong entries, deviations and a second hand that entered."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.plan.model import Joint
from splitline.record.entry import Accepted, Measured, Note, SetAside, Signed, Tightened, WrongEntry
from splitline.record.journal import Journal
from splitline.record.plans import put_plan
from splitline.report.blocks import Bundle, Cautions, Para, Picture, Points, Table, blocks_of, text_of
from splitline.report.dossier import dossier_of, write
from splitline.report.shapes import Label
from splitline.report.sheets.dossier_words import pull as pull_words
from splitline.report.sheets.dossier_words import signed, value
from tests.record.helpers import START, Ticking, uid
from tests.report.prints import DEMO, demo, fact, table, texts

HEAD = "discharge-head"
TITLE = "Discharge head cover to casing"
ORDER = ((1, 13), (7, 19), (4, 16))


def pull(bolts: tuple[int, ...], pass_: str, **more: object) -> Tightened:
    data = {"uid": uid(), "done_by": "Jürgen Größe", "joint": HEAD, "pass_": pass_, "bolts": bolts}
    return Tightened(**data | more)  # type: ignore[arg-type]


@pytest.fixture(name="plan", scope="module")
def plan_fixture(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo plan with a record beside it."""
    path = tmp_path_factory.mktemp("job") / "k410.toml"
    shutil.copy(DEMO, path)
    clock = Ticking()
    journal = Journal(path, clock=clock, sync=lambda fd: None)
    put_plan(journal, path.read_text("utf-8"), "Ines", "K-410", "B")
    acts = [
        Signed(uid=uid(), done_by="Tomas", act="set-up", joint=HEAD, pass_="snug", batch="L-77",
               lubricant="molybdenum disulfide paste",
               tool="wrench W1", serial="HW-0311", calibration_due=dt.date(2028, 3, 1)),
        *(pull(bolts, "snug", torque=590.0, pressure=15e5) for bolts in ORDER),
        WrongEntry(uid=uid(), done_by="Aiko", entry=5, reason="it was 4 only | [not 16]"),
        SetAside(uid=uid(), done_by="Aiko", joint=HEAD, pass_="snug", bolts=(16,), reason="galled <b>"),
        Measured(uid=uid(), done_by="Brandt", item=HEAD, what="stretch", bolt=1, value=0.4e-3, quantity="length",
                 typed="0.40 mm", low=0.5e-3, high=0.8e-3, instrument="DM-3"),
        Accepted(uid=uid(), done_by="Petra", stop="reading, entry 8", reason="measured hot"),
        Measured(uid=uid(), done_by="Olu", entered_by="Ines", item="total-float", what="as left", value=8e-3,
                 quantity="length", typed="8.00 mm", low=7.6e-3, high=8.4e-3),
        Note(uid=uid(), done_by="Ines", topic="handover", text="stud 16 waits for a new nut"),
        Signed(uid=uid(), done_by="Dirk", act="hold", step="ready", role="supervisor", count=5, head="ab" * 32),
    ]  # fmt: skip
    for act in acts:
        journal.append(act)
        clock.forward(minutes=7)
    return path


@pytest.fixture(name="made", scope="module")
def made_fixture(plan: Path) -> Bundle:
    return dossier_of(plan, START + dt.timedelta(days=1))


def test_the_front_says_how_the_record_stands(plan: Path, made: Bundle) -> None:
    front = made.sheets[0]
    record = Journal(plan).refresh()
    assert text_of(fact(front, "Entries")) == str(record.count) == "12"
    assert text_of(fact(front, "Record code")) == record.head
    assert text_of(fact(front, "Deviations")).startswith("1, 1 accepted by name; ")
    assert text_of(fact(front, "Deferred bolts")) == "1"
    assert text_of(fact(front, "Corrections")) == "1"
    said = " ".join(block.text for block in blocks_of(front) if isinstance(block, Para))
    assert "not proof against somebody who forges" in said
    assert "stands as it was written" in said
    assert f"record code {record.head}, 12 entries" in made.foot


def test_bolts_show_what_they_got_from_whom_and_what_is_open(made: Bundle) -> None:
    joint = next(sheet for sheet in made.sheets if sheet.item == HEAD)
    bolts = table(joint, "Bolt by bolt")
    assert bolts.head == ("Bolt", "snug, 2027-03-01, Jürgen Größe")  # alike in the whole pass: said once
    rows = {row[0]: row for row in texts(bolts)}
    assert len(rows) == 24
    assert rows["1"][1].startswith("▲ 15\u00a0bar 06:")  # the plan tells more than 15 bar
    assert ", told " in rows["1"][1]
    assert rows["4"][1] == "not done"  # its entry was struck
    assert rows["16"][1] == "deferred"
    notes = [text for block in blocks_of(joint) if isinstance(block, Points) for text in block.texts]
    assert any(text.startswith("Bolt 16 deferred in snug by Aiko") and text.endswith("galled <b>") for text in notes)
    passes = table(joint, "Passes, as done")
    assert passes.title == "Passes, as done; molybdenum disulfide paste, batch L-77"
    assert texts(passes)[0][2:4] == ("4 of 24", "open")
    assert texts(passes)[0][5].startswith("wrench W1 HW-0311, 2028-03-01; Tomas, 2027-03-01")
    assert table(joint, "Set values").rows


def test_the_map_crosses_out_what_is_not_pulled_and_writes_what_the_others_were_set_to(made: Bundle) -> None:
    joint = next(sheet for sheet in made.sheets if sheet.item == HEAD)
    picture, estimate = [
        block for block in blocks_of(joint) if isinstance(block, Picture)
    ]  # one reading makes no chart
    assert estimate.caption.endswith("Grey: above need, below yield.")
    words = [block.text for block in blocks_of(joint) if isinstance(block, Para)]
    assert any(": Lowest stud" in text for text in words)
    assert picture.caption.startswith("Seen from outside, facing the cover. ")
    labels = [shape.text for shape in picture.drawing.shapes if isinstance(shape, Label)]
    assert labels.count("15") == 4 + 1  # bar, under the four that were pulled; and the number of stud 15
    assert "as set, bar" in labels
    said = picture.drawing.said
    assert "by bolt 1: 15, 7: 15, 13: 15, 19: 15" in said
    assert "not pulled to the end: 2, 3, 4, 5, 6, 8" in said


def test_deviations_set_aside_and_wrong_entries_are_told_with_names(made: Bundle) -> None:
    sheet = next(sheet for sheet in made.sheets if sheet.title.startswith("Deviations, remarks"))
    tables = {block.head[0] + block.head[1]: texts(block) for block in blocks_of(sheet) if isinstance(block, Table)}
    (deviation,) = [row for row in tables["DeviationAccepted by"] if row[1] != "stopped nothing"]
    assert deviation[0].startswith(f"{TITLE}: stretch")
    assert "outside its limits" in deviation[0]
    assert deviation[1].startswith("Petra, ")
    assert deviation[2] == "measured hot"
    (aside,) = tables["JointPass"]
    assert aside[:5] == (TITLE, "snug", "16", "galled <b>", "not accepted")
    (struck,) = tables["EntrySaid"]
    assert struck[0] == "5, by 6"
    assert "tightened; pass snug; bolt 16; set torque 590 N·m; set pressure 15 bar" in struck[1]
    assert struck[2] == "it was 4 only | [not 16]"
    assert tables["WhenTopic"][0][3] == "stud 16 waits for a new nut"


def test_clearances_stand_in_one_table_and_name_who_did_and_who_entered(made: Bundle) -> None:
    sheet = next(sheet for sheet in made.sheets if sheet.title.startswith("Lifts, clearances"))
    (clearance,) = texts(next(block for block in blocks_of(sheet) if isinstance(block, Table)))
    assert clearance[1:5] == ("7.6 mm to 8.4 mm", "", "8.00 mm", "instrument not given, Olu, entered by Ines")


def test_signatures_are_listed_with_the_record_they_were_given_on(made: Bundle) -> None:
    answers = next(sheet for sheet in made.sheets if sheet.title.startswith("Deviations, remarks"))
    rows = texts(next(b for b in blocks_of(answers) if isinstance(b, Table) and b.head[1:2] == ("Signed",)))
    assert rows[-1][1:3] == (
        "hold point signed supervisor (step 1)",
        "Dirk",
    )
    assert rows[-1][4] == f"5, {'ab' * 8}"


@pytest.mark.parametrize("suffix", [".pdf", ".md", ".csv"])
def test_it_is_written_in_every_form(plan: Path, tmp_path: Path, suffix: str) -> None:
    target = tmp_path / f"dossier{suffix}"
    write(plan, plan.with_suffix(".record.toml"), target)
    assert target.stat().st_size > 2000
    if suffix == ".md":
        text = target.read_text("utf-8")
        assert "Jürgen Größe" in text
        assert "galled \\<b\\>" in text


def test_an_altered_record_is_said_at_the_top(plan: Path, tmp_path: Path) -> None:
    for path in plan.parent.iterdir():
        shutil.copy(path, tmp_path / path.name)
    record = next(tmp_path.glob("*.record.toml"))
    record.write_bytes(record.read_bytes().replace(b"galled", b"lovely"))
    front = dossier_of(tmp_path / plan.name, START).sheets[0]
    (caution,) = [block for block in blocks_of(front) if isinstance(block, Cautions)]
    assert "NOT stand as it was written" in caution.texts[0]


def test_an_older_copy_put_back_with_its_own_head_is_said_at_the_top(plan: Path, tmp_path: Path) -> None:
    """Record and head of the copy agree; the small file of the folder knows that there were more entries."""
    old, new = tmp_path / "old", tmp_path / "new"
    for folder in (old, new):
        folder.mkdir()
        for path in plan.parent.iterdir():
            shutil.copy(path, folder / path.name)
    journal = Journal(new / plan.name, clock=Ticking(START + dt.timedelta(hours=9)), sync=lambda fd: None)
    for text in ("one", "two"):
        journal.append(Note(uid=uid(), done_by="Ines", topic="note", text=text))
    for path in old.iterdir():
        if path.suffix in (".toml", ".head"):
            shutil.copy(path, new / path.name)
    front = dossier_of(new / plan.name, START).sheets[0]
    (caution,) = [block for block in blocks_of(front) if isinstance(block, Cautions)]
    assert caution.texts[1].startswith("this folder has seen 14 entries, the record holds 12")
    assert not any("stands as it was written" in block.text for block in blocks_of(front) if isinstance(block, Para))


def test_the_plan_in_the_record_serves_where_the_file_is_gone(plan: Path, tmp_path: Path) -> None:
    for path in plan.parent.iterdir():
        if path.name != plan.name:
            shutil.copy(path, tmp_path / path.name)
    assert dossier_of(tmp_path / plan.name, START).title.startswith("K-410")


def test_no_record_no_dossier(tmp_path: Path) -> None:
    path = tmp_path / "p.toml"
    shutil.copy(DEMO, path)
    with pytest.raises(RecordError, match="no record yet"):
        write(path, path.with_suffix(".record.toml"), tmp_path / "d.pdf")


def test_sheets_printed_during_the_work_carry_count_and_head(plan: Path) -> None:
    from splitline.report.load import opened
    from tests.report.prints import TODAY, bundle

    found = opened(plan, TODAY)
    assert found is not None
    assert found.record is not None
    assert f"record code {found.record.head}, 12 entries" in bundle(found, HEAD).foot


def test_signatures_are_said_in_words() -> None:
    def said(**more: object) -> str:
        return signed(Signed(**{"uid": uid(), "done_by": "Dirk"} | more))  # type: ignore[arg-type]

    assert said(act="tag", step="lift", role="leg.1.tag", statement="3 t") == "sling tag leg 1 (lift): 3 t"
    assert said(act="trial", step="lift") == "trial lift: hung clear and was looked at (lift)"
    assert said(act="set-up", joint="head", pass_="2") == "set-up pass 2 (head)"
    assert said(act="count-out", step="close", role="plates", count=4) == "counted out 4 of plates (close)"


def test_windows_name_the_steps_by_their_numbers(made: Bundle) -> None:
    order = next(each for each in made.sheets if each.title.startswith("Order of work"))
    rows = texts(table(order, "Time limits"))
    assert rows[0] == ("O-rings lubricated until they enter the bore", "starts at the end of step 9")


def test_a_pressure_is_said_as_its_gauge_shows_it(made: Bundle) -> None:
    joint = demo().plan.find("joint", HEAD)
    assert isinstance(joint, Joint)
    entry = pull((1,), "1", torque=1773.0, pressure=150e5, read=151e5, read_kind="pressure")
    assert pull_words(entry, "US", joint) == "1308 ft·lbf, 150 bar (2176 psi), read 151 bar (2190 psi)"


def test_a_reading_in_another_unit_is_said_in_the_unit_of_its_limits_too() -> None:
    entry = Measured(uid=uid(), done_by="Olu", item="f", what="float", value=8e-3, quantity="length", typed="8.00 mm")
    assert value(entry, "SI") == "8.00 mm"
    assert value(entry, "US") == "8.00 mm (0.315 in)"
