"""The file: written, read by others, altered, cut, torn, and when it cannot be written."""

from __future__ import annotations

import hashlib
import os
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import RecordError
from splitline.plan.read import open_plan
from splitline.plan.save import save
from splitline.record import journal as module
from splitline.record.entry import Accepted, Entry, Measured, Note, Recovered, Tightened
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from tests.record.helpers import START, Ticking, journal, pull, uid

PEOPLE = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=40)


def fill(folder: Path, count: int = 6) -> Journal:
    book = journal(folder)
    for bolt in range(1, count + 1):
        book.append(pull(bolt, torque=1020.0, pressure=175e5, lubricant="paste"))
    return book


def test_entries_are_numbered_stamped_and_chained_as_described(tmp_path: Path) -> None:
    book = fill(tmp_path, 3)
    text = book.paths.record.read_bytes()
    previous = "0" * 64
    blocks = text.split(b"\n\n")[:-1]
    for number, block in enumerate(blocks, 1):
        content, _, last = block.rpartition(b"\n")
        digest = hashlib.sha256(previous.encode() + content + b"\n").hexdigest()
        assert last == f'hash = "{digest}"'.encode()
        table = tomllib.loads(block.decode())["entry"][0]
        assert (table["number"], table["done_at"], table["entered_by"]) == (number, START, "A. Fitter")
        previous = digest
    assert book.paths.head.read_text() == f'count = 3\nhash = "{previous}"\n'
    assert Journal(tmp_path / "cover.toml").refresh().entries == book.record.entries


@given(people=st.lists(PEOPLE, min_size=1, max_size=3), words=st.text(st.characters(exclude_categories=("Cs",))))
def test_any_text_comes_back(tmp_path_factory: pytest.TempPathFactory, people: list[str], words: str) -> None:
    folder = tmp_path_factory.mktemp("texts")
    book = Journal(folder / "cover.toml", clock=Ticking(), sync=lambda fd: None)
    stored = [book.append(Note(uid=uid(), done_by=name, text=words)) for name in people]
    assert list(Journal(folder / "cover.toml").refresh().entries) == stored
    assert [e["text"] for e in tomllib.loads(book.paths.record.read_text("utf-8"))["entry"]] == [words] * len(people)
    assert verify(folder / "cover.toml").ok


def test_entered_after_the_fact_keeps_both_times_and_names(tmp_path: Path) -> None:
    clock = Ticking()
    book = journal(tmp_path, clock=clock)
    clock.forward(hours=5)
    stored = book.append(pull(1, done_at=START, done_by="B. Night", entered_by="C. Day"))
    assert (stored.done_at, stored.done_by) == (START, "B. Night")
    assert (stored.entered_at, stored.entered_by) == (clock.now, "C. Day")


def test_a_double_tap_is_one_entry(tmp_path: Path) -> None:
    clock = Ticking()
    book, other = journal(tmp_path, clock=clock), journal(tmp_path, clock=clock)
    act = pull(1, 5)
    first = book.append(act)
    clock.forward(seconds=3)
    assert other.append(act) == first
    assert book.append(replace(act)) == first
    assert book.refresh().count == 1
    with pytest.raises(RecordError, match="another act"):
        book.append(replace(act, bolts=(2, 6)))
    with pytest.raises(RecordError, match="another act"):
        book.append(Note(uid=act.uid, done_by="A. Fitter", text="?"))


def test_a_retry_is_not_acknowledged_before_it_is_on_the_disk(tmp_path: Path) -> None:
    act = pull(1)
    fill(tmp_path, 0).append(act)

    def broken(fd: int) -> None:
        raise OSError(5, "Input/output error")

    with pytest.raises(RecordError, match="NOT stored"):
        journal(tmp_path, sync=broken).append(act)


def test_the_check_sees_what_others_wrote_meanwhile(tmp_path: Path) -> None:
    book, other = journal(tmp_path), journal(tmp_path)
    other.append(pull(1))
    seen: list[int] = []
    book.append(pull(2), check=lambda record: seen.append(record.count))
    assert seen == [1]

    def refuse(record: object) -> None:
        raise RecordError("not open")

    with pytest.raises(RecordError, match="not open"):
        book.append(pull(3), check=refuse)
    assert other.refresh().count == 2


def test_reading_leaves_the_folder_as_it_is(tmp_path: Path) -> None:
    assert journal(tmp_path).refresh().entries == ()
    assert list(tmp_path.iterdir()) == []


# --- altered -------------------------------------------------------------------------------------------------------


def alter(book: Journal, old: bytes, new: bytes, which: int = 3) -> None:
    blocks = book.paths.record.read_bytes().split(b"\n\n")
    assert old in blocks[which - 1]
    blocks[which - 1] = blocks[which - 1].replace(old, new)
    book.paths.record.write_bytes(b"\n\n".join(blocks))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"torque = 1020.0", b"torque = 1010.0"),
        (b"bolts = [3]", b"bolts = [4]"),
        (b"bolts = [3]", b"bolts = 3"),
        (b'kind = "tightened"', b'kind = "invented"'),
        (b"A. Fitter", b"B. Fitter"),
        (b"A. Fitter", b"\xff"),
        (b"number = 3", b"number = 4"),
        (b"joint = ", b"# joint = "),
        (b'hash = "', b'hash = "0'),
        (b"[[entry]]", b"[[entri]]"),
    ],
)
def test_an_altered_entry_is_found_and_named(tmp_path: Path, old: bytes, new: bytes) -> None:
    book = fill(tmp_path)
    alter(book, old, new)
    found = verify(tmp_path / "cover.toml")
    assert not found.ok
    assert found.problems[0].key.startswith("altered entry 3, ")
    assert "entry 3" in found.problems[0].text
    assert {problem.number for problem in found.problems} <= {3, 4}


def test_an_entry_forged_with_its_hash_shows_at_the_next_one(tmp_path: Path) -> None:
    book = fill(tmp_path)
    blocks = book.paths.record.read_bytes().split(b"\n\n")
    before = blocks[1].rpartition(b'hash = "')[2][:64]
    content = blocks[2].replace(b"1020.0", b"900.0").rpartition(b"hash = ")[0]
    blocks[2] = content + b'hash = "' + hashlib.sha256(before + content).hexdigest().encode() + b'"'
    book.paths.record.write_bytes(b"\n\n".join(blocks))
    assert [problem.number for problem in verify(tmp_path / "cover.toml").problems] == [4]


def test_a_removed_and_a_moved_entry_are_named(tmp_path: Path) -> None:
    book = fill(tmp_path)
    blocks = book.paths.record.read_bytes().split(b"\n\n")
    book.paths.record.write_bytes(b"\n\n".join(blocks[:2] + blocks[3:]))
    keys = [problem.key for problem in verify(tmp_path / "cover.toml").problems]
    assert keys[0].startswith("altered entry 3, ")
    assert keys[-1] == "missing entry 6"
    book.paths.record.write_bytes(b"\n\n".join([blocks[1], blocks[0], *blocks[2:]]))
    assert {problem.number for problem in verify(tmp_path / "cover.toml").problems} == {1, 2, 3}


def test_an_altered_record_takes_only_a_named_persons_word(tmp_path: Path) -> None:
    alter(fill(tmp_path), b"1020.0", b"1000.0")
    book = journal(tmp_path)
    key = book.refresh().problems[0].key
    with pytest.raises(RecordError, match="entry 3"):
        book.append(pull(7))
    with pytest.raises(RecordError, match="entry 3"):
        book.append(Accepted(uid=uid(), done_by="D. Lead", stop=key.replace("3", "4"), reason="?"))
    book.append(Accepted(uid=uid(), done_by="D. Lead", stop=key, reason="torque corrected by hand"))
    assert book.append(pull(7)).number == 8
    found = verify(tmp_path / "cover.toml")
    assert not found.ok
    assert any("accepted by D. Lead" in remark for remark in found.remarks)


def test_a_cut_tail_is_told_by_the_head_file(tmp_path: Path) -> None:
    book = fill(tmp_path)
    blocks = book.paths.record.read_bytes().split(b"\n\n")
    book.paths.record.write_bytes(b"\n\n".join([*blocks[:3], b""]))
    assert [problem.key for problem in verify(tmp_path / "cover.toml").problems] == ["missing entries 4 to 6"]
    fresh = journal(tmp_path)
    for act in (pull(4), Note(uid=uid(), done_by="x", text="hello")):
        with pytest.raises(RecordError, match="entries 4 to 6: missing"):
            fresh.append(act)
    fresh.append(Accepted(uid=uid(), done_by="D. Lead", stop="missing entries 4 to 6", reason="disk restored"))
    assert fresh.append(pull(4)).number == 5
    assert verify(tmp_path / "cover.toml").ok


def test_a_missing_record_with_a_head_is_a_cut_record(tmp_path: Path) -> None:
    book = fill(tmp_path)
    book.paths.record.unlink()
    with pytest.raises(RecordError, match="entries 1 to 6: missing"):
        journal(tmp_path).append(pull(1))
    with pytest.raises(RecordError, match="1 to 6"):
        book.append(pull(1))


def test_line_ends_changed_by_an_editor_are_not_taken_for_a_torn_tail(tmp_path: Path) -> None:
    book = fill(tmp_path)
    damaged = book.paths.record.read_bytes().replace(b"\n", b"\r\n")
    book.paths.record.write_bytes(damaged)
    with pytest.raises(RecordError, match="line ends"):
        journal(tmp_path).append(pull(7))
    book.paths.head.unlink()
    with pytest.raises(RecordError, match="line ends"):
        journal(tmp_path).append(pull(7))
    assert book.paths.record.read_bytes() == damaged


def test_a_trimmed_last_line_end_is_mended(tmp_path: Path) -> None:
    book = fill(tmp_path)
    whole, head = book.paths.record.read_bytes(), book.paths.head.read_bytes()
    for trimmed in (whole[:-1], whole[:-2]):
        book.paths.record.write_bytes(trimmed)
        assert verify(tmp_path / "cover.toml").ok
        fresh = journal(tmp_path)
        fresh.append(pull(7))
        assert [type(entry) for entry in fresh.record.entries] == [Tightened] * 7
        book.paths.record.write_bytes(whole)
        book.paths.head.write_bytes(head)
        book.paths.seen.unlink()  # an older pair put back would be told


# --- torn ----------------------------------------------------------------------------------------------------------


def test_a_torn_tail_is_kept_aside_cut_and_told(tmp_path: Path) -> None:
    book = fill(tmp_path)
    whole = book.paths.record.read_bytes()
    for size in (1, 9, 40, 200):
        torn = b'[[entry]]\nnumber = 7\nkind = "tightened"\nuid = "x"\n'.ljust(200, b"\0")[:size]
        book.paths.record.write_bytes(whole + torn)
        book.paths.head.write_text(f'count = 6\nhash = "{book.record.head}"\n')
        book.paths.seen.unlink()  # an older pair put back would be told
        assert journal(tmp_path).refresh().count == 6
        fresh = journal(tmp_path)
        stored = fresh.append(pull(7))
        told = fresh.record.entries[6]
        assert isinstance(told, Recovered)
        assert (tmp_path / told.kept_in).read_bytes() == torn
        assert (told.size, told.sha256) == (size, hashlib.sha256(torn).hexdigest())
        assert stored.number == 8
        assert verify(tmp_path / "cover.toml").ok


# --- cannot be written ---------------------------------------------------------------------------------------------


def test_after_a_failed_sync_nothing_is_acknowledged_or_left(tmp_path: Path) -> None:
    book = fill(tmp_path)
    before = book.paths.record.read_bytes()
    fails = [True]

    def sometimes(fd: int) -> None:
        if fails[0]:
            raise OSError(28, "No space left on device")
        os.fsync(fd)

    broken = journal(tmp_path, sync=sometimes)
    act = pull(7)
    with pytest.raises(RecordError, match="NOT stored: No space left"):
        broken.append(act)
    assert book.paths.record.read_bytes() == before
    fails[0] = False
    assert broken.append(act).number == 7
    assert verify(tmp_path / "cover.toml").ok


def test_a_short_write_on_a_full_disk_is_taken_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = fill(tmp_path)
    before = book.paths.record.read_bytes()
    write = os.write

    def short(fd: int, data: memoryview) -> int:
        if len(data) < 100:
            raise OSError(28, "No space left on device")
        return write(fd, data[:100])

    monkeypatch.setattr(module.os, "write", short)
    with pytest.raises(RecordError, match="No space left"):
        book.append(pull(7))
    assert book.paths.record.read_bytes() == before
    monkeypatch.undo()
    assert book.append(pull(7)).number == 7


def test_a_lost_head_file_lags_but_loses_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = fill(tmp_path)

    def full(path: Path, head: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module, "write_head", full)
    assert book.append(pull(7)).number == 7
    found = verify(tmp_path / "cover.toml")
    assert found.ok
    assert any("knows 6 of 7" in remark for remark in found.remarks)


def test_measured_verdicts() -> None:
    reading = Measured(uid="u", done_by="x", item="head", what="gap", value=5e-5, quantity="length", low=0.0, high=5e-5)
    assert reading.verdict == "inside"
    assert replace(reading, value=5.1e-5).verdict == "outside"
    assert replace(reading, low=None, high=None).verdict == "not judged"


def test_a_later_versions_extra_key_is_read_past(tmp_path: Path) -> None:
    from splitline.record.chain import scan
    from splitline.record.lines import LineReader

    content = b'[[entry]]\nnumber = 1\nkind = "note"\nuid = "u"\ndone_by = "x"\ncolour = "red"\ntext = "words"\n'
    digest = hashlib.sha256(b"0" * 64 + content).hexdigest()
    found = scan(content + f'hash = "{digest}"\n\n'.encode(), LineReader())
    assert found.problems == ()
    expected: Entry = Note(uid="u", number=1, done_by="x", text="words", hash=digest)
    assert found.entries == (expected,)


@pytest.fixture(scope="module", name="sealed")
def sealed_fixture(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, bytes]:
    folder = tmp_path_factory.mktemp("sealed")
    book = fill(folder)
    return folder, book.paths.record.read_bytes()


@given(place=st.floats(0, 1, exclude_max=True), byte=st.integers(0, 255))
def test_any_byte_changed_anywhere_is_found_at_its_entry(sealed: tuple[Path, bytes], place: float, byte: int) -> None:
    folder, whole = sealed
    at = int(place * len(whole))
    changed = whole[:at] + bytes([byte]) + whole[at + 1 :]
    (folder / "cover.record.toml").write_bytes(changed)
    found = verify(folder / "cover.toml")
    if changed == whole:
        assert found.ok
        return
    number = whole[:at].count(b"\n\n[[entry]]") + 1
    assert not found.ok
    assert found.problems[0].number in (number, number + 1)


@given(first=st.floats(0, 1), second=st.floats(0, 1))
def test_any_stretch_cut_out_is_found(sealed: tuple[Path, bytes], first: float, second: float) -> None:
    folder, whole = sealed
    low, high = sorted((int(first * len(whole)), int(second * len(whole))))
    (folder / "cover.record.toml").write_bytes(whole[:low] + whole[high:])
    only_line_ends = whole[low:].strip(b"\n") == b"" and whole[high:].strip(b"\n") == b""
    assert verify(folder / "cover.toml").ok == (low == high or only_line_ends)


PIECES = st.sampled_from(
    [b"[[entry]]\n", b"\n\n", b'hash = "' + b"0" * 64 + b'"', b"number = 1\n", b'kind = "note"\n', b'uid = "u"\n',
     b'done_by = "x"\n', b'text = "t"\n', b"bolts = [1]\n", b"\xff", b"\r\n", b'"', b"number = 99999999999999999999\n"]
)  # fmt: skip


@given(st.lists(PIECES | st.binary(max_size=8), max_size=14).map(b"".join))
def test_reading_never_breaks_whatever_stands_in_the_file(data: bytes) -> None:
    from splitline.record.chain import scan
    from splitline.record.lines import LineReader

    found = scan(data, LineReader())
    assert found.end + len(found.tail) == len(data)
    assert len(found.problems) == found.blocks  # no hash is right by chance


def test_a_plan_opened_by_a_link_and_by_its_own_name_has_one_record(tmp_path: Path) -> None:
    plan, far = tmp_path / "cover.toml", tmp_path / "desk"
    plan.write_text("")
    far.mkdir()
    (far / "today.toml").symlink_to(plan)
    Journal(far / "today.toml").append(pull(1))
    Journal(plan).append(pull(2))
    assert Journal(far / "today.toml").refresh().count == 2
    assert [each.name for each in far.iterdir()] == ["today.toml"]


def test_the_locks_of_a_plan_and_of_its_record_have_one_mode(tmp_path: Path) -> None:
    plan = tmp_path / "cover.toml"
    plan.write_bytes((Path(__file__).parents[2] / "plans/k410-closeup.toml").read_bytes())
    save(open_plan(plan).edit(("title",), "Head cover"))
    Journal(plan).append(pull(1))
    locks = [each for each in tmp_path.iterdir() if each.name.endswith(".lock")]
    assert len(locks) == 2
    assert len({each.stat().st_mode for each in locks}) == 1


def test_a_second_tap_is_one_entry_by_the_machine_s_own_clock_and_device_too(tmp_path: Path) -> None:
    """By the real clock an entry carries the machine's boot and count: the retry, made later, is the same act all the same."""
    own = Journal(tmp_path / "cover.toml", device="tablet T2")
    entry = pull(1)
    first = own.append(entry)
    assert (first.device, bool(first.boot)) == ("tablet T2", first.tick is not None)
    assert own.append(entry) == first
    other = Journal(tmp_path / "cover.toml")
    assert other.append(entry) == first
    assert own.refresh().count == 1


@pytest.mark.parametrize(
    "line", ['pulled_with = ["A"]', "pressures = [1.0]", 'pressures = ["x", "y"]', "pulled_with = [1, 2]"]
)
def test_what_goes_with_each_bolt_is_one_for_each(tmp_path: Path, line: str) -> None:
    own = journal(tmp_path)
    own.append(pull(1, 5, pulled_with=("A", "B"), pressures=(5e7, 5.1e7)))
    text = own.paths.record.read_text("utf-8")
    key = line.partition(" ")[0]
    old = next(each for each in text.splitlines() if each.startswith(key))
    own.paths.record.write_text(text.replace(old, line), "utf-8")
    fresh = journal(tmp_path).refresh()
    assert any("is not one for each of bolts" in problem.text for problem in fresh.problems)
