"""The PDF as a reader sees it, by pdftotext and pdftoppm where they are there."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from splitline.report.output import bundle_bytes
from splitline.report.pdf.paper import PAPERS
from tests.report.prints import WRONG, bundle, demo, plan_of

pytestmark = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext (poppler-utils) is not installed")


def text_of(folder: Path, data: bytes) -> list[str]:
    """Text of each page."""
    path = folder / "out.pdf"
    path.write_bytes(data)
    run = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, check=True)
    return run.stdout.decode("utf-8").split("\f")[:-1]


def test_every_page_has_number_drawings_digest_and_record(tmp_path: Path) -> None:
    found = demo()
    pages = text_of(tmp_path, bundle_bytes(bundle(found), ".pdf", PAPERS["A4"]))
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert f"plan digest {found.digest}" in page
        assert "K410-B-014 head covers rev C" in page
        assert "plan revision B" in page
        assert "record: no entries yet" in page


def test_set_values_and_the_word_missing_can_be_read(tmp_path: Path) -> None:
    pages = text_of(tmp_path, bundle_bytes(bundle(demo(), "discharge-head"), ".pdf", PAPERS["A4"]))
    first = pages[0]
    for text in (
        "505 bar",
        "305 bar",
        "molybdenum disulfide paste",
        "Seen from outside",
        "HOLD: Discharge head",
        "12 o'clock",
    ):
        assert text in " ".join(first.split()), text
    wrong = " ".join(text_of(tmp_path, bundle_bytes(bundle(demo(WRONG), "cover"), ".pdf", PAPERS["A4"]))[0].split())
    assert "missing" in wrong
    assert "NOT READY" in wrong


def test_names_and_brackets_of_people_stand_as_typed(tmp_path: Path) -> None:
    title = "Prüfung Größe [x] *y* <z> für Jürgen Śłóńź"
    text = f'format = 1\n[plan]\ntitle = "{title}"\n[[joint]]\nid = "j"\ntitle = "{title} 2"\n'
    pages = text_of(tmp_path, bundle_bytes(bundle(plan_of(tmp_path, text)), ".pdf", PAPERS["Letter"]))
    assert title in pages[0]
    assert f"{title} 2" in " ".join(pages[0].split())


HIDDEN = {
    "zero\u200bwidth": "zero\\u200bwidth",
    "turned\u202egnp": "turned\\u202egnp",
    "soft\u00adhyphen": "soft\\u00adhyphen",
    "bell\u0007rings": "bell\\u0007rings",
    "C1\u009bsign": "C1\\u009bsign",
    "mark\ufeffed": "mark\\ufeffed",
    "joined\u200dhere": "joined\\u200dhere",
}


@pytest.mark.parametrize("typed", HIDDEN)
def test_hidden_signs_are_told_in_a_pdf_as_the_terminal_tells_them(typed: str, tmp_path: Path) -> None:
    from splitline.outlet import shown

    escaped = typed.encode("unicode_escape").decode().replace("\\x", "\\u00")
    assert HIDDEN[typed] == shown(typed)
    text = f'format = 1\n[plan]\ntitle = "T"\n[[joint]]\nid = "j"\ntitle = "{escaped}"\n'
    pages = text_of(tmp_path, bundle_bytes(bundle(plan_of(tmp_path, text)), ".pdf", PAPERS["A4"]))
    assert HIDDEN[typed] in pages[0]


def test_a_long_word_of_hidden_signs_stays_within_its_room() -> None:
    from splitline.report.pdf.pen import Pen

    pen = Pen(PAPERS["A4"])
    lines = pen.wrap("\u200b" * 80 + " end", 8.0, 60.0)
    assert len(lines) > 5
    assert max(pen.width(line, 8.0) for line in lines) <= 60.0
    assert "".join(lines).count("\\u200b") == 80


def test_scripts_that_join_their_letters_keep_their_joiners() -> None:
    from splitline.outlet import shown

    for word in ("می\u200cروم", "क्\u200dष", "👩\u200d🔧"):
        assert shown(word) == word


def test_two_hundred_numbers_can_be_read_from_the_map(tmp_path: Path) -> None:
    text = """
format = 1
[plan]
title = "ring"
[[joint]]
id = "ring"
title = "Ring"
[joint.bolting]
kind = "stud"
thread = "M20"
[joint.layout]
shape = "circle"
bolts = 200
diameter = "3900 mm"
"""
    first = text_of(tmp_path, bundle_bytes(bundle(plan_of(tmp_path, text), "ring"), ".pdf", PAPERS["A4"]))[0]
    assert set(range(1, 201)) <= {int(word) for word in first.split() if word.isdigit()}


WORD = re.compile(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>')
PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)"')


@pytest.mark.parametrize("paper", ["A4", "A3"])
@pytest.mark.parametrize("item", ["discharge-head", "bundle-lift", "thrust-collar", "bundle-push"])
def test_no_word_lies_on_another_and_none_beyond_the_margins(tmp_path: Path, item: str, paper: str) -> None:
    path = tmp_path / "out.pdf"
    path.write_bytes(bundle_bytes(bundle(demo(), item, paper), ".pdf", PAPERS[paper]))
    run = subprocess.run(["pdftotext", "-bbox", str(path), "-"], capture_output=True, check=True, text=True)
    pages = run.stdout.split("<page ")[1:]
    assert pages
    for text in pages:
        width, height = (float(value) for value in PAGE.findall("<page " + text)[0])
        words = [(*map(float, found[:4]), found[4]) for found in WORD.findall(text)]
        assert min(word[0] for word in words) > 0.05 * width
        assert max(word[2] for word in words) < 0.95 * width
        assert max(word[3] for word in words) < 0.98 * height
        words.sort(key=lambda word: word[1])
        for place, a in enumerate(words):
            for b in words[place + 1 :]:
                if b[1] >= a[3]:
                    break
                wide, high = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
                least = min((word[2] - word[0]) * (word[3] - word[1]) for word in (a, b))
                assert wide <= 0 or high <= 0 or wide * high < 0.25 * least, (a, b)


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler-utils) is not installed")
def test_a_page_turns_into_a_picture_with_ink_and_without_colour(tmp_path: Path) -> None:
    path = tmp_path / "out.pdf"
    path.write_bytes(bundle_bytes(bundle(demo(), "thrust-collar"), ".pdf", PAPERS["A4"]))
    subprocess.run(["pdftoppm", "-r", "40", "-l", "1", str(path), str(tmp_path / "p")], check=True)
    (picture,) = tmp_path.glob("p*.ppm")
    pixels = picture.read_bytes().split(b"\n", 3)[3]
    colours = {tuple(pixels[at : at + 3]) for at in range(0, len(pixels) - 2, 3)}
    assert all(max(colour) - min(colour) <= 2 for colour in colours)
    dark = sum(pixels[at] < 128 for at in range(0, len(pixels), 3)) / (len(pixels) / 3)
    assert 0.005 < dark < 0.3
