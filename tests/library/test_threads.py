"""Thread designations as planners write them, in both systems, and what is said to a bad one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import LibraryError
from splitline.library.store import part
from splitline.library.threads import parse_designation

INCH = 0.0254


@pytest.mark.parametrize(
    ("text", "d_mm", "pitch_mm", "name"),
    [
        ("M48x3", 48, 3, "M48x3"),
        ("M48", 48, 5, "M48x5"),
        ("M48×3", 48, 3, "M48x3"),
        ("m48 X 3", 48, 3, "M48x3"),
        ("M48*3", 48, 3, "M48x3"),
        ("M 64 x 6", 64, 6, "M64x6"),
        ("M36 - 6g", 36, 4, "M36x4"),
        ("M48x3-6g", 48, 3, "M48x3"),
        ("M20x2.5-6H/6g", 20, 2.5, "M20x2.5"),
        ("M160x6", 160, 6, "M160x6"),
        ("M1.6", 1.6, 0.35, "M1.6x0.35"),
    ],
)  # diameters and coarse pitches: ISO 261
def test_metric(text: str, d_mm: float, pitch_mm: float, name: str) -> None:
    size = parse_designation(text)
    assert (size.system, size.name, size.tpi, size.left_hand) == ("metric", name, None, False)
    assert size.d == pytest.approx(d_mm * 1e-3, rel=1e-12)
    assert size.pitch == pytest.approx(pitch_mm * 1e-3, rel=1e-12)
    assert size.source.startswith("ISO 261")
    assert not size.note


@pytest.mark.parametrize(
    ("text", "d_in", "tpi", "name"),
    [
        ("1 3/4-8UN", 1.75, 8, "1 3/4-8UN"),
        ("1-3/4-8 UN", 1.75, 8, "1 3/4-8UN"),
        ("1 3/4 - 8 UN - 2A", 1.75, 8, "1 3/4-8UN"),
        ('1 3/4"-8UN', 1.75, 8, "1 3/4-8UN"),
        ("1¾-8UN", 1.75, 8, "1 3/4-8UN"),
        ("1.75-8UN", 1.75, 8, "1 3/4-8UN"),
        ("3/4-10UNC", 0.75, 10, "3/4-10UNC"),
        ("3/4 UNC", 0.75, 10, "3/4-10UNC"),
        ("3/4-10", 0.75, 10, "3/4-10UNC"),
        ("¾-10UNC", 0.75, 10, "3/4-10UNC"),
        ("1.5-6UNC", 1.5, 6, "1 1/2-6UNC"),
        ("7/8-9 UNC-2A", 0.875, 9, "7/8-9UNC"),
        ("7/8-14unf", 0.875, 14, "7/8-14UNF"),
        ("1-8UNRC-2A", 1, 8, "1-8UNC"),
        ("2-4 1/2UNC", 2, 4.5, "2-4.5UNC"),
        ("2 1/2-12UN", 2.5, 12, "2 1/2-12UN"),
        ("#10-24UNC", 0.19, 24, "#10-24UNC"),
    ],
)  # ASME B1.1
def test_unified(text: str, d_in: float, tpi: float, name: str) -> None:
    size = parse_designation(text)
    assert (size.system, size.name, size.tpi) == ("inch", name, tpi)
    assert size.d == pytest.approx(d_in * INCH, rel=1e-12)
    assert size.pitch == pytest.approx(INCH / tpi, rel=1e-12)
    assert not size.note


@pytest.mark.parametrize("text", ["M48x3 LH", "M48x3-LH", "M48x3-6g-LH", "1 3/4-8UN-2A-LH", "1-8UNC left hand"])
def test_left_hand(text: str) -> None:
    size = parse_designation(text)
    assert size.left_hand
    assert size.name.endswith(" LH")
    assert parse_designation(size.name) == parse_designation(size.name)
    assert parse_designation(size.name).left_hand


@pytest.mark.parametrize(
    ("text", "note"),
    [
        ("M48x2.5", "M48x2.5 is not an ISO 261 combination"),
        ("M49x2", "M49x2 is not an ISO 261 combination"),
        ("M72", "ISO 261 has no coarse pitch above M68: 6 mm taken for M72"),
        ("1-14UNS", "1-14 is in no ASME B1.1 standard series (special, UNS)"),
        ("1 3/4-7UN", "1 3/4-7 is in no ASME B1.1 standard series (special, UNS)"),
    ],
)
def test_odd_ones_are_read_and_said(text: str, note: str) -> None:
    assert parse_designation(text).note == note


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("M48x60", "nearest: M48x5, M48x4, M48x3"),
        ("5/8-99UNC", "nearest: 5/8-32UN"),
        ("5/8-9UNC", "nearest: 5/8-11UNC"),
        ("M49", "nearest: M48, M50"),
        ("M25", "write one of M25x2, M25x1.5, M25x1"),
        ("M0", "no ISO 261 diameter"),
        ("1 3/4", "write one of 1 3/4-8UN"),
        ("3/4-10UNX", "unknown series UNX"),
        ("1/0-8UN", "divides by zero"),
        ("20-8UN", "metric threads start with M"),
        ("#3-48UNC", "numbered sizes go from #4 to #12"),
        ("1/4-2UN", "2 threads per inch do not go with 1/4 in"),
        ("1-80UN", "nearest: 1-32UN"),
        ("M1,6", "use a point"),
        ("G1/2", "not a thread Splitline knows"),
        ("", "not a thread Splitline knows"),
        ("M" * 50, "too many"),
    ],
)
def test_bad_ones_get_a_plain_answer(text: str, said: str) -> None:
    with pytest.raises(LibraryError) as caught:
        parse_designation(text)
    assert said in str(caught.value)


def test_every_listed_combination_reads_back() -> None:
    for row in part("threads-metric").rows.values():
        for pitch in (*([row["coarse"]] if row.get("coarse") else []), *row["fine"]):
            size = parse_designation(f"{row.name}x{pitch * 1e3:g}")
            assert (size.d, size.note) == (pytest.approx(row["diameter"], rel=1e-12), "")
            assert size.pitch == pytest.approx(pitch, rel=1e-12)
    for row in part("threads-inch").rows.values():
        size = parse_designation(row.name)
        assert (size.name, size.tpi, size.note) == (row.name, row["tpi"], "")


@given(st.text(alphabet='M0123456789x×.-/ UNCFLHag#"¾', max_size=24))
def test_any_text_is_a_thread_or_a_plain_error(text: str) -> None:
    try:
        size = parse_designation(text)
    except LibraryError:
        return
    assert 0 < size.pitch < size.d < 0.41
    assert parse_designation(size.name).d == size.d
    assert parse_designation(size.name).pitch == pytest.approx(size.pitch, rel=1e-12)
