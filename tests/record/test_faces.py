"""Each fact of a rich record stands on every face; the record is read by its own plans."""

from __future__ import annotations

import csv
import io
import json
import re
import tomllib
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from splitline.assess.recorded import Book, open_book
from splitline.record import fact_kinds as kinds
from splitline.record.closing import closed_items, missing, second_batches, to_look_at
from splitline.record.export import csv_text, json_text, record_schema
from splitline.record.markdown import markdown
from splitline.report.blocks import Facts, Para, Points, Table, blocks_of, text_of
from splitline.report.dossier import bundle_of
from tests.record.rich import BUNDLE, HEAD, Rich, rich

NOT_SAID = {"uid", "hash", "digest", "boot", "tick", "number", "kind", "items", "quantity", "read_kind"}


@pytest.fixture(name="made", scope="module")
def made_fixture(tmp_path_factory: pytest.TempPathFactory) -> Rich:
    return rich(tmp_path_factory.mktemp("rich"))


@pytest.fixture(name="book", scope="module")
def book_fixture(made: Rich) -> Book:
    return open_book(made.path, made.clock.now)


@pytest.fixture(name="pdf", scope="module")
def pdf_fixture(book: Book) -> dict[str, str]:
    """What stands on each sheet, by its title, all cells in their order."""
    bundle = bundle_of(book.stands.draft, book.stands.assessment, book.record, book.built)
    found: dict[str, str] = {}
    for sheet in bundle.sheets:
        words: list[str] = []
        for block in blocks_of(sheet):
            if isinstance(block, Table):
                words += [text_of(cell) for row in block.rows for cell in row]
            elif isinstance(block, Facts):
                words += [f"{label} {text_of(cell)}" for label, cell in block.rows]
            elif isinstance(block, Para):
                words.append(block.text)
            elif isinstance(block, Points):
                words += block.texts
        found[sheet.title] = flat(" | ".join(words))
    return found


def flat(text: str) -> str:
    return " ".join(text.replace("\\", "").replace("\u00a0", " ").split())


def raw(made: Rich) -> list[dict[str, Any]]:
    """The entries as the file has them, read by the standard library alone."""
    return list(tomllib.loads(made.journal.paths.record.read_text("utf-8"))["entry"])


def test_the_record_is_rich(made: Rich) -> None:
    entries = raw(made)
    assert len(entries) >= 400
    assert len({entry["kind"] for entry in entries}) == 8  # all but a recovered one


def words_of(entry: dict[str, Any]) -> list[str]:
    found = []
    for key, value in entry.items():
        if key in NOT_SAID or (entry["kind"] == "plan" and key == "text"):
            continue
        if isinstance(value, str):
            found.append(
                {"count-out": "counted out", "count-in": "counted in", "part": "part used"}.get(value, flat(value))
            )
        elif isinstance(value, datetime):
            if key == "done_at":
                found.append(f"{value:%Y-%m-%d %H:%M}")
        elif isinstance(value, date):
            found.append(str(value))
        elif isinstance(value, list):
            found += [str(each) for each in value]
        elif isinstance(value, int) and not isinstance(value, bool) and value:
            found.append(str(value))
    return found


RUN = re.compile(r"\[(\d+)\] ")


def register_of(table: Table, note: str) -> dict[str, str]:
    """What the appendix says of each entry: what its run has in common, and what stands behind its own number."""
    device = note.partition("Where no device is named: ")[2].removesuffix(".")
    found: dict[str, str] = {}
    for cells in table.rows:
        numbers, revision, action, who = map(text_of, cells)
        who = who if ", at " in who else f"{who}, {device}"
        if numbers.isdigit():
            found[numbers] = found.get(numbers, "") + flat(" | ".join((numbers, revision, action, who)))
            continue
        common, *own = RUN.split(action)
        for number, text in zip(own[::2], own[1::2], strict=True):
            found[number] = found.get(number, "") + flat(" | ".join((number, revision, common, text, who)))
    return found


def stands_in(word: str, text: str) -> bool:
    """A moment may have its day said once for a whole run."""
    day = re.fullmatch(r"(\d{4}-\d\d-\d\d) (\d\d:\d\d)", word)
    return word in text or (day is not None and all(part in text for part in day.groups()))


def test_every_word_of_every_entry_stands_on_paper_in_markdown_csv_and_json(made: Rich, book: Book) -> None:
    bundle = bundle_of(book.stands.draft, book.stands.assessment, book.record, book.built)
    (table,) = [block for block in blocks_of(bundle.sheets[-1]) if isinstance(block, Table)]
    (note,) = [block for block in blocks_of(bundle.sheets[-1]) if isinstance(block, Para)]
    register = register_of(table, note.text)
    text: dict[str, str] = {}
    for line in markdown(book.built).partition("## Every entry")[2].splitlines():
        number = line.removeprefix("- ").partition(".")[0]
        text[number] = text.get(number, "") + flat(line)
    rows: dict[str, str] = {}
    for row in csv.DictReader(io.StringIO(csv_text(book.built))):
        rows[row["entry"]] = rows.get(row["entry"], "") + flat(" | ".join(row.values()))
    facts: dict[int, str] = {}
    for fact in json.loads(json_text(book.built, book.record.entries))["facts"]:
        number = fact.get("entry", 0)
        facts[number] = facts.get(number, "") + flat(" | ".join(map(str, fact.values()))).replace("T", " ")
    for entry in raw(made):
        for word in words_of(entry):
            place = f"entry {entry['number']} {entry['kind']}: {word}"
            assert stands_in(word, register[str(entry["number"])]), place
            assert word in text[str(entry["number"])], place
            assert word.lstrip("=") in rows[str(entry["number"])], place
            assert word.replace("T", " ") in facts[entry["number"]], place


def test_numbers_are_the_same_in_json_and_in_the_file(made: Rich, book: Book) -> None:
    facts = json.loads(json_text(book.built, book.record.entries))["facts"]
    by = {fact["entry"]: fact for fact in facts if fact.get("entry") and fact["kind"] in ("measured", "tightened")}
    pairs = {"value": "value", "low": "at_least", "high": "at_most", "torque": "set_torque", "pressure": "set_pressure"}
    for entry in raw(made):
        for key, name in pairs.items():
            if entry["kind"] in ("measured", "tightened") and isinstance(entry.get(key), float):
                assert by[entry["number"]][name] == pytest.approx(entry[key], rel=1e-11)


def test_every_number_of_the_json_has_a_unit(book: Book) -> None:
    data = json.loads(json_text(book.built, book.record.entries))
    assert {"angle": "rad", "voltage": "V", "share": "1", "length": "m"}.items() <= data["units"].items()
    schema = {
        each["properties"]["kind"]["const"]: each["properties"]
        for each in record_schema()["properties"]["facts"]["items"]["oneOf"]
    }
    kinds = {"string": str, "integer": int, "number": (int, float), "boolean": bool, "array": list}
    for fact in data["facts"]:
        own = schema[fact["kind"]]
        assert set(fact) <= set(own), set(fact) - set(own)
        for key, value in fact.items():
            assert isinstance(value, kinds.get(own[key].get("type", "string"), object)), (key, value)
            if isinstance(value, float):
                assert "x-unit" in own[key] or fact["quantity"] in data["units"], key


def test_a_pull_set_by_the_other_size_is_named_and_no_other(made: Rich, book: Book) -> None:
    found = [each for each in book.built.deviations if each.kind == "set otherwise than told"]
    assert [(each.entry, each.item) for each in found] == [(made.known["otherwise"], BUNDLE)]
    assert "screw 8 in 2 set otherwise than told" in found[0].text


def test_the_dossier_is_of_the_plans_in_the_record_not_of_the_file_beside(made: Rich, tmp_path: Path) -> None:
    other = tmp_path / "k410.toml"
    for path in made.path.parent.glob("k410.record*"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    text = made.path.read_text("utf-8").replace('revision = "C"', 'revision = "Z"', 1)
    start = text.index('[[step]]\nid = "bar-over"')
    other.write_text(text[:start], "utf-8")
    book = open_book(other, made.clock.now)
    assert book.stands.draft.plan.info.revision == "C"
    assert "bar-over" in {state.plan.id for state in book.built.steps}
    assert book.beside[0].startswith("the plan file beside is NOT the plan the work went by")
    assert any("revision: was C, now Z" in line for line in book.beside)
    bundle = bundle_of(book.stands.draft, book.stands.assessment, book.record, book.built)
    said = [text for block in blocks_of(bundle.sheets[0]) for text in getattr(block, "texts", ())]
    assert any("NOT the plan the work went by" in text for text in said)


def test_each_pull_and_step_has_its_own_revision_and_changes_are_told_old_and_new(made: Rich, book: Book) -> None:
    facts = [fact for fact in book.built.facts if fact.item == HEAD and fact.kind == "tightened"]
    assert {fact.revision for fact in facts if fact.pass_ in ("snug", "1")} == {"B"}  # type: ignore[attr-defined]
    assert {fact.revision for fact in facts if fact.pass_ in ("2", "3")} == {"C"}  # type: ignore[attr-defined]
    changes = [fact.changes for fact in book.built.facts if fact.kind == "plan" and fact.entry == made.known["plan C"]]  # type: ignore[attr-defined]
    assert any("revision: was B, now C" in text for text in changes[0])


def test_front_page_counts_what_the_record_holds(made: Rich, book: Book) -> None:
    looked = {name: (count, entries) for name, count, entries in to_look_at(book.built)}
    known = made.known
    assert looked["studs below target"][0] == 1
    assert looked["holds signed on own work"] == (1, (known["own hold"],))
    assert looked["pressure lost in a hold"] == (1, (known["mid hold"],))
    assert looked["witnesses absent"][0] == 1
    assert looked["tools out of calibration"] == (2, (known["lapsed instrument"], known["lapsed"]))
    assert looked["open points"] == (1, (known["open point"],))
    assert looked["readings without an instrument"][0] == 60  # of the force log
    late = [entry["number"] for entry in raw(made) if entry["kind"] == "tightened" and entry["joint"] == "suction-head"]
    assert looked["entries written down afterwards"] == (len(late), tuple(late))
    assert looked["readings as found outside their limits"] == (1, (known["as found"],))
    assert looked["concessions of deferred studs"] == (1, (known["concession"],))
    assert looked["acceptances of own entries"] == (1, (known["own acceptance"],))
    assert len(second_batches(book.built)) == 1
    states = {item.id: item.state for item in closed_items(book.built)}
    assert states[HEAD] == "closed SHORT: without 5, below target; OUTSIDE: gap 3 o'clock"
    assert states[BUNDLE] == "closed"
    lacking = missing(book.built)
    (left,) = [text for text in lacking if text.startswith("open point")]
    assert left.endswith("guard of the coupling to be painted (Olu, by 2027-03-20)")
    assert any(text.startswith("Leak test") and text.endswith("not done") for text in lacking)


def test_what_became_of_studs_set_aside_is_told(made: Rich, book: Book) -> None:
    said = {fact.entry: fact.outcome for fact in book.built.facts if fact.kind == "set aside"}  # type: ignore[attr-defined]
    assert said[made.known["later"]] == f"tightened later, entry {made.known['tightened later']}"
    assert said[made.known["aside"]].startswith("accepted as such by Petra")


def test_what_a_struck_entry_said_is_kept_on_every_face(book: Book, pdf: dict[str, str]) -> None:
    for text in (pdf["Deviations, remarks, signatures"], flat(markdown(book.built)), flat(csv_text(book.built))):
        assert re.search(r"lubricant copper paste; batch C-3", text)


def test_an_absent_witness_is_said_alike_on_every_face(book: Book, pdf: dict[str, str]) -> None:
    said = "called and not present (Ines)"
    assert said in pdf["Order of work, as done"]
    for text in (markdown(book.built), csv_text(book.built), json_text(book.built, book.record.entries)):
        assert said in flat(text)


def test_all_times_are_in_one_zone(made: Rich) -> None:
    book = open_book(made.path, made.clock.now.astimezone(UTC))  # read on a machine of another zone
    assert "Times are local (UTC+01:00)." in flat(markdown(book.built))
    zones = {row["times in"] for row in csv.DictReader(io.StringIO(csv_text(book.built))) if row["times in"]}
    assert zones == {"UTC+01:00"}


def test_a_tool_is_held_against_its_calibration_on_each_day_it_was_used(book: Book) -> None:
    rows = {(f.serial, f.calibration_due): f for f in book.built.facts if isinstance(f, kinds.ToolUsed)}
    assert rows["HW-0311", date(2028, 3, 1)].on_the_day == "in calibration"
    assert rows["HW-0311", date(2027, 2, 1)].on_the_day.startswith("LAPSED on 2027-03-")
    assert rows["DM-8", date(2027, 2, 20)].on_the_day == "LAPSED on 2027-03-01"
    assert rows["LC-2", date(2027, 9, 30)].used_on == ("rotor-lift",)
    assert {f.on_the_day for (serial, _), f in rows.items() if not serial} == {"calibration not given"}


def test_a_second_batch_is_a_deviation_with_its_reason(made: Rich, book: Book) -> None:
    (found,) = [each for each in book.built.deviations if each.kind == "second batch"]
    assert found.text.endswith("batch L-78 of molybdenum disulfide paste in 2, L-77 before: the tin was empty")
    assert not found.stops


def test_a_pull_of_two_tools_tells_each_stud_its_own(made: Rich, book: Book) -> None:
    own = {
        f.bolt: f.pulled_with
        for f in book.built.facts
        if isinstance(f, kinds.StudValue) and f.entry == made.known["pair"]
    }
    assert own == {3: "HW-0311", 15: "HW-0312"}


def test_the_copy_that_was_read_is_told_on_every_face_and_differs_from_folder_to_folder(
    made: Rich, book: Book, pdf: dict[str, str], tmp_path: Path
) -> None:
    for path in made.path.parent.glob("k410*"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    other = open_book(tmp_path / "k410.toml", made.clock.now)
    assert other.built.copy != book.built.copy
    assert other.built.head == book.built.head  # by its entries it is the same record
    assert len(book.built.copy) == 7
    assert f"Copy number, of this machine and folder {book.built.copy}" in pdf["As built"]
    assert f"Copy number {book.built.copy}." in markdown(book.built)
    assert json.loads(json_text(book.built, book.record.entries))["copy"] == book.built.copy


def test_what_follows_from_the_entries_stands_on_paper_too(book: Book, pdf: dict[str, str]) -> None:
    """Deviations, steps, time limits and tools are no entries: they stand on their own sheets."""
    answers, work, tools = (pdf[title] for title in (
        "Deviations, remarks, signatures", "Order of work, as done", "Tools, parts, open points",
    ))  # fmt: skip
    seen = set()
    for fact in book.built.facts:
        seen.add(fact.kind)
        if isinstance(fact, kinds.Deviated):
            numbers = ", ".join(str(n) for n in (fact.entry, fact.accepted_in) if n)
            wanted = (fact.text.partition(": ")[2], fact.accepted_by, fact.reason, fact.role, numbers)
            assert all(flat(text) in answers for text in wanted), fact
        elif isinstance(fact, kinds.StepStands):
            times = [f"{at:%Y-%m-%d %H:%M}" for at in (fact.started_at, fact.ended_at) if at]
            wanted = (fact.text, fact.state, *times, fact.hold, fact.hold_by, fact.witness)
            assert all(flat(text) in work for text in wanted), fact
            assert not fact.hold_entry or f"entry {fact.hold_entry}" in work
            assert not fact.witness_entry or f"{fact.witness_said}, entry {fact.witness_entry}" in work
        elif isinstance(fact, kinds.TimeLimit):
            assert fact.text.rpartition(": ")[2] in work
        elif isinstance(fact, kinds.ToolUsed):
            assert all(text in tools for text in (fact.tool, fact.serial, fact.on_the_day)), fact
    assert {"deviation", "step", "time limit", "tool register"} <= seen


def test_the_text_of_the_record_tells_each_joint_as_left(book: Book) -> None:
    text = flat(markdown(book.built))
    assert "as left: stretch as read last (pass 3) by bolt 1: 0.22 mm, 2: 0.22 mm" in text
    assert "; not pulled to the end: 5" in text
    assert re.search(
        r"Discharge head: snug and first pass, gap even all round: done \(begun 2027-03-01 1\d:\d\d, done", text
    )
