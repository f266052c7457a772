"""Far beyond any plan: refused with a sentence, at once, without memory, and without hurting the files beside it."""

from __future__ import annotations

import shutil
import tracemalloc
from pathlib import Path

import pytest

from splitline.assess.assessment import assess
from splitline.errors import PlanError
from splitline.library.store import Library
from splitline.plan.read import open_plan
from splitline.record.journal import Journal
from tests.commands.drive import ran

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
HEAD = 'format = 1\n\n[plan]\ntitle = "x"\n'
BAD = {
    "digits": f"tag = {'1' * 5000}\n",
    "digits in a list": f"crew = [1, {'9' * 4400}]\n",
    "hex": f"tag = 0x{'f' * 5000}\n",
    "float": f"tag = {'9' * 5000}.5\n",
    "dotted": f"{'.'.join(['a'] * 1200)} = 1\n",
    "dotted beyond memory": f"{'.'.join(['a'] * 20_000)} = 1\n",
    "dotted and quoted beyond memory": ".".join(['"a"'] * 20_000) + " = 1\n",
    "dotted in braces beyond memory": f"x = {{{' . '.join(['a'] * 20_000)} = 1}}\n",
    "heading": f"[{'.'.join(['a'] * 1200)}]\n",
    "key": f"{'k' * 40_000} = 1\n",
    "quoted key": f'"{"k" * 40_000}" = 1\n',
    "lists": f"crew = {'[' * 900}{']' * 900}\n",
    "tables": f"crew = {'{a = ' * 300}1{'}' * 300}\n",
    "broken beside deep": f"{'.'.join(['a'] * 1200)} = 1\ntag = K 410\n",
}


@pytest.mark.parametrize("name", BAD)
def test_it_is_refused_in_words(tmp_path: Path, name: str) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(HEAD + BAD[name])
    tracemalloc.start()
    try:
        with pytest.raises(PlanError):
            open_plan(path)
        assert tracemalloc.get_traced_memory()[1] < 40_000_000
    finally:
        tracemalloc.stop()
    for command in (["check", str(path)], ["kit", str(path)], ["order", str(path), "x"]):
        told = ran(command)
        assert told.code == 2
        assert "fault" not in told.err
        assert len(told.err) < 2000


@pytest.mark.parametrize("name", BAD)
def test_a_site_s_library_and_pins_are_refused_in_words_too(tmp_path: Path, name: str) -> None:
    from splitline.errors import LibraryError, RecordError
    from splitline.record.pins import pins_of

    shutil.copy(DEMO, tmp_path / "plan.toml")
    for file in ("library.toml", "people.toml"):
        (tmp_path / file).write_text(BAD[name])
    tracemalloc.start()
    try:
        with pytest.raises(LibraryError):
            Library.load(tmp_path)
        with pytest.raises(RecordError, match="PINs cannot be read"):
            pins_of(tmp_path)
        assert tracemalloc.get_traced_memory()[1] < 40_000_000
    finally:
        tracemalloc.stop()
    told = ran(["check", str(tmp_path / "plan.toml")])
    assert told.code == 2
    assert "fault" not in told.err
    assert len(told.err) < 2000


def test_a_library_far_too_large_is_no_library(tmp_path: Path) -> None:
    from splitline.errors import LibraryError

    (tmp_path / "library.toml").write_bytes(b"# \n" * 700_000)
    with pytest.raises(LibraryError, match="right file"):
        Library.load(tmp_path)


def test_dots_in_words_are_no_key(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(f'{HEAD}notes = """\n{"." * 900}\n{"Ja. " * 300}\n{"1.2 m, " * 300}\n"""  # {"a." * 600}\n')
    assert open_plan(path).problems == ()


def test_long_digits_in_words_are_no_number(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(f'{HEAD}notes = "{"7" * 1000}"  # {"8" * 1000}\n')
    assert open_plan(path).problems == ()


def test_a_bad_file_in_the_folder_leaves_the_rows_of_the_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from splitline.ui import listing
    from splitline.ui.session import Session

    for number, text in enumerate(BAD.values()):
        (tmp_path / f"bad{number}.toml").write_text(HEAD + text)
        assert listing.entry_of(tmp_path / f"bad{number}.toml").unread
    (tmp_path / "good.toml").write_text(HEAD)
    assert listing.entry_of(tmp_path / "good.toml").title == "x"
    monkeypatch.setattr(Session, "compute", lambda _: 1 / 0)
    assert "ZeroDivisionError" in listing.entry_of(tmp_path / "good.toml").unread


def test_a_record_of_newlines_takes_no_memory_and_is_one_broken_entry(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text(HEAD)
    (tmp_path / "p.record.toml").write_bytes(b"\n" * 2_000_000)
    tracemalloc.start()
    record = Journal(tmp_path / "p.toml").refresh()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert (record.count, len(record.problems)) == (1, 1)
    assert peak < 30_000_000


def test_blocks_of_rubbish_are_told_up_to_a_number_and_end_in_one_stop(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text(HEAD)
    (tmp_path / "p.record.toml").write_bytes(b"x\n\n" * 50_000)
    record = Journal(tmp_path / "p.toml").refresh()
    assert record.count == 50_000
    assert 1000 < len(record.problems) < 1010
    assert any("and more after it" in problem.text for problem in record.problems)


def test_every_step_looks_at_the_whole_order_once_and_not_once_each(tmp_path: Path) -> None:
    """The work grows with the steps, not with their square: counted in comparisons of steps, not in seconds."""
    import datetime as dt

    from splitline.plan.model import Step

    count = 3000
    steps = "".join(
        f'[[step]]\nid = "s{n}"\ntext = "t"\nminutes = 5\n{f"needs = [{chr(34)}s{n - 1}{chr(34)}]" if n else ""}\n'
        for n in range(count)
    )
    (tmp_path / "chain.toml").write_text(HEAD + steps)
    plan = open_plan(tmp_path / "chain.toml").plan
    hashed, usual = 0, Step.__hash__

    def counted(self: Step) -> int:
        nonlocal hashed
        hashed += 1
        return usual(self)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Step, "__hash__", counted)
        found = assess(plan, Library.load(), dt.date(2027, 3, 1))
    assert hashed < 10 * count
    last = found.find("step", f"s{count - 1}")
    assert last is not None
    assert last.results["starts_after"] == pytest.approx((count - 1) * 300.0)
    assert last.results["crew_time_total"] == pytest.approx(count * 300.0)
