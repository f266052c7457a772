"""What the assessment says of many plans, written down and compared: for a change that must change nothing.

    python -m tests.assess.unchanged write FOLDER     before the change
    python -m tests.assess.unchanged compare FOLDER   after it; prints every difference, exits 1 where there is one

The plans are the demos, the starting plans and 200 made from them with a fixed seed: numbers scaled, fields left out, words
exchanged. Checks are compared without regard to their order; numbers to ten digits.
"""

from __future__ import annotations

import datetime as dt
import io
import json
import random
import re
import sys
from collections.abc import Iterator
from contextlib import redirect_stdout
from pathlib import Path
from typing import Any

TOP = Path(__file__).resolve().parents[2]
DAY = dt.date(2026, 6, 1)
NUMBER = re.compile(r"^(-?\d+(?:\.\d+)?)( .+)$")
KEEP = {"format", "id", "title", "kind", "shape", "method", "name", "bolts", "mass_basis"}
METHODS = ("torque wrench", "hydraulic wrench", "hydraulic tensioner", "stretch", "turn", "heat")


def sources() -> dict[str, str]:
    """Texts of the demos and the starting plans."""
    files = [*sorted((TOP / "plans").glob("*.toml")), *sorted((TOP / "src/splitline/plan/starting").glob("*.toml"))]
    return {f.stem: f.read_text("utf-8") for f in files if not f.name.endswith(".record.toml") and f.stem != "library"}


def plans() -> Iterator[tuple[str, str]]:
    """Name and text of every plan."""
    import tomllib

    import tomli_w

    texts = sources()
    yield from texts.items()
    names = sorted(texts)
    for seed in range(200):
        dice = random.Random(seed)
        tree = tomllib.loads(texts[dice.choice(names)])
        _shake(tree, dice, dice.choice((0.01, 0.04)))
        yield f"made-{seed:03d}", tomli_w.dumps(tree)


def _shake(table: dict[str, Any], dice: random.Random, share: float) -> None:
    for key in list(table):
        value = table[key]
        if isinstance(value, dict):
            if dice.random() < share / 2:
                del table[key]
            else:
                _shake(value, dice, share)
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            for part in value:
                _shake(part, dice, share)
        elif key == "method":
            table[key] = dice.choice((value, value, *METHODS))
        elif key not in KEEP and dice.random() < share:
            del table[key]
        elif isinstance(value, str) and (found := NUMBER.match(value)) and dice.random() < 3 * share:
            table[key] = f"{float(found[1]) * dice.choice((0.8, 0.9, 1.1, 1.25)):.6g}{found[2]}"


def told(text: str) -> dict[str, Any]:
    """The assessment of one plan as JSON, with the working as printed."""
    from splitline.assess.assessment import assess
    from splitline.assess.to_json import assessment_json
    from splitline.library.store import Library
    from splitline.plan.read import read_text
    from splitline.report.text import print_assessment

    draft = read_text(text)
    result = assess(draft.plan, Library.load(), DAY)
    out = assessment_json(result)
    shown = io.StringIO()
    with redirect_stdout(shown):
        print_assessment(result, system=None, working=True, only=None)
    out["working"] = sorted(line.rstrip() for line in shown.getvalue().splitlines())
    return out


def differences(before: Any, now: Any, at: str = "") -> Iterator[str]:
    """Every place where two assessments differ."""
    if isinstance(before, dict) and isinstance(now, dict):
        for key in [*before, *(k for k in now if k not in before)]:
            if key not in now or key not in before:
                yield f"{at}.{key}: {'gone' if key in before else 'new'}: {str(before.get(key, now.get(key)))[:160]}"
            else:
                yield from differences(before[key], now[key], f"{at}.{key}")
    elif isinstance(before, list) and isinstance(now, list):
        if at.endswith((".checks", ".notes", ".defaults", ".cautions", ".working")):
            old, new = (sorted(json.dumps(_round(part), ensure_ascii=False) for part in side) for side in (before, now))
            yield from (f"{at} - {part[:300]}" for part in old if part not in new)
            yield from (f"{at} + {part[:300]}" for part in new if part not in old)
        elif len(before) != len(now):
            yield f"{at}: {len(before)} entries, now {len(now)}"
        else:
            for number, (old_part, new_part) in enumerate(zip(before, now, strict=True)):
                name = old_part.get("id", number) if isinstance(old_part, dict) else number
                yield from differences(old_part, new_part, f"{at}[{name}]")
    elif _round(before) != _round(now):
        yield f"{at}: {before!s:.120} -> {now!s:.120}"


def _round(value: Any) -> Any:
    if isinstance(value, float):
        return float(f"{value:.9e}")
    if isinstance(value, dict):
        return {key: _round(part) for key, part in value.items()}
    return [_round(part) for part in value] if isinstance(value, list) else value


def main(what: str, folder: str) -> int:
    place, count = Path(folder), 0
    place.mkdir(parents=True, exist_ok=True)
    for name, text in plans():
        now = told(text)
        if what == "write":
            (place / f"{name}.toml").write_text(text, "utf-8")
            (place / f"{name}.json").write_text(json.dumps(now, ensure_ascii=False), "utf-8")
            continue
        for line in differences(json.loads((place / f"{name}.json").read_text("utf-8")), now):
            print(f"{name}{line}")
            count += 1
    print(f"{count} differences" if what == "compare" else f"written to {place}")
    return 1 if count else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
