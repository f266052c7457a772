"""Mutated plans through every command that reads one: a verdict or a sentence, never a traceback, never 1 without a verdict."""

from __future__ import annotations

import random
import re
from collections import Counter
from pathlib import Path

import pytest

from tests.commands.drive import ENCODINGS, ran

PLANS = Path(__file__).parents[2] / "plans"
SOURCES = [(PLANS / name).read_text("utf-8") for name in ("k410-closeup.toml", "wrong-on-purpose.toml")]
VALUES = (
    "0", "-1", "1e308", "-1e-308", "nan", "inf", "true", '""', '"0 mm"', '"-5 mm"', '"1e400 mm"', '"5"', '"5 kg"', "[]", "{}",
    "[1, 2]", '"1/0 in"', '"\\u0000"', '"\\u202e"', "99999999999999999999", "1979-05-27", '"x"', "[[1], [2]]", '"round"', "3.5",
    '"9' + "9" * 400 + ' mm"', "1" * 5000,
)  # fmt: skip
JUNK = ("\x00", "\ud7ff", "[[", "]", '"', "=", "é", "\x1b[2J", "'''", "\r", "[joint]\n", "a.b.c = 1\n", "." * 50)


def mutated(rng: random.Random) -> bytes:
    """One to four changes: a value, a line gone, twice, moved, cut, or junk among the bytes."""
    lines = rng.choice(SOURCES).splitlines(keepends=True)
    for _ in range(rng.randint(1, 4)):
        at = rng.randrange(len(lines))
        how = rng.randrange(7)
        if how < 3 and "=" in lines[at]:
            lines[at] = f"{lines[at].partition('=')[0]}= {rng.choice(VALUES)}\n"
        elif how == 3:
            del lines[at]
        elif how == 4:
            lines.insert(rng.randrange(len(lines)), lines[at])
        elif how == 5:
            lines[at] = lines[at][: rng.randrange(len(lines[at]) + 1)]
        else:
            place = rng.randrange(len(lines[at]) + 1)
            lines[at] = lines[at][:place] + rng.choice(JUNK) + lines[at][place:]
    return "".join(lines).encode("utf-8", "surrogatepass")


def commands(plan: Path) -> tuple[list[str], ...]:
    name, folder = str(plan), plan.parent
    return (
        ["check", name],
        ["check", name, "--json", "--units", "US"],
        ["kit", name],
        ["order", name, "discharge-head"],
        ["sheet", name, "-o", f"{folder}/sheet.md", "--force"],
        ["record", name],
    )


def drive(folder: Path, count: int, seed: int) -> Counter[int]:
    """How often each exit code came; the first bad end stops with the plan that brought it."""
    rng = random.Random(seed)
    codes: Counter[int] = Counter()
    for number in range(count):
        plan = folder / "plan.toml"
        plan.write_bytes(mutated(rng))
        for arguments in commands(plan):
            for encoding in ENCODINGS if count > 100 else (rng.choice(ENCODINGS),):
                told = ran(arguments, encoding)
                codes[told.code] += 1
                where = f"seed {seed}, plan {number}, {arguments[0]}, {encoding}: {told.err[-400:]}"
                assert told.code in (0, 1, 2), where
                assert "Traceback" not in told.err, where
                assert "fault of this program" not in told.err, where
                if told.code == 2:
                    assert told.err.strip(), where
                if told.code == 1:
                    verdict = re.search(r"Overall: . (fails|missing)|\"verdict\"", told.out) or "no order" in told.err
                    assert verdict, where
    return codes


def test_a_few_mutated_plans(tmp_path: Path) -> None:
    codes = drive(tmp_path, 25, 4711)
    assert codes[2] > 20


@pytest.mark.long
def test_a_thousand_mutated_plans_through_six_commands_in_four_encodings(tmp_path: Path) -> None:
    codes = drive(tmp_path, 1000, 1187)
    print(
        f"\n1,000 mutated plans x 6 commands x 4 encodings: exit codes {dict(codes)}, no traceback, no 1 without a verdict"
    )
    assert sum(codes.values()) == 24_000
