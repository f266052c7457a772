"""Who did the work and who signs it are compared as people, not as texts."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.record.danger import DANGER, check_release, key_of
from splitline.record.deviations import own_work
from splitline.record.entry import Accepted, Note, Signed
from splitline.record.job import StepPlan
from splitline.record.order import StepState
from splitline.record.people import NOBODY_KNOWN, People, plain_name
from splitline.record.pins import people_of, pins_of, set_pin
from tests.record.helpers import numbered, uid

ALIKE = [
    "José Ñáñez",
    "JOSE NANEZ",
    " jose  nanez ",
    "Jose\u0301 N\u0303a\u0301n\u0303ez",
    "Jose\u200b\u00a0Nanez",
    "jose.nanez",
]


@pytest.mark.parametrize("written", ALIKE)
def test_case_blanks_dots_accents_and_hidden_signs_make_nobody_else(written: str) -> None:
    assert NOBODY_KNOWN.same("José Ñáñez", written)
    assert People(frozenset({"José Ñáñez"})).entries(written) == ("José Ñáñez",)


def test_others_are_others_and_nobody_is_nobody() -> None:
    assert not NOBODY_KNOWN.same("J. Nanez", "Jose Nanez")
    assert not NOBODY_KNOWN.same("", " ")
    assert plain_name("Łukasz Ørsted-Æbelø") == "lukaszorsted-aebelo"
    assert plain_name("ＩＮＥＳ") == "ines"


def test_two_entries_are_two_people_however_alike(tmp_path: Path) -> None:
    set_pin(tmp_path, "José", "1234")
    set_pin(tmp_path, "Jose", "5678")
    people = people_of(tmp_path)
    assert not people.same("José", "Jose")
    assert people.same("JOSE", "José")  # whichever of them it is, it is not nobody
    assert people.same("JOSE", "Jose")


def test_a_pin_is_asked_however_the_name_is_written_and_tells_whose_it_is(tmp_path: Path) -> None:
    set_pin(tmp_path, "Ines", "1234")
    pins = pins_of(tmp_path)
    assert pins.asks(" INÉS ")
    assert pins.owner(" INÉS ", "1234") == "Ines"
    assert pins.owner(" INÉS ", "4321") is None
    assert not pins.asks("Tomas")


def test_a_hold_on_own_work_is_seen_through_another_spelling() -> None:
    done = Signed(uid=uid(), done_by="Ines Ibáñez", act="done", step="bead")
    for name, own in (("INES  IBANEZ", True), ("Ines Ibarra", False)):
        entries = numbered([done, Signed(uid=uid(), done_by=name, act="hold", step="bead", role="lead")])
        hold = entries[1]
        assert isinstance(hold, Signed)
        assert own_work(hold, StepState(StepPlan("bead"), "done"), entries) is own


def test_who_called_a_danger_does_not_release_it_in_capitals() -> None:
    note = numbered([Note(uid=uid(), done_by="Tomás", topic=DANGER, text="gas")])[0]
    assert isinstance(note, Note)
    for name in ("TOMAS", "tomás "):
        with pytest.raises(RecordError, match="another person"):
            check_release((note,), Accepted(uid=uid(), done_by=name, stop=key_of(note), reason="x", role="lead"))
    check_release((note,), Accepted(uid=uid(), done_by="Aiko", stop=key_of(note), reason="x", role="lead"))
