"""TOML that does not parse: which lines, and what to write instead."""

from __future__ import annotations

import re
import tomllib

from splitline.plan.problem import Problem

MOST = 20
_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_UNQUOTED = re.compile(r"^\s*[\w.-]+\s*=\s*([^\"'\[{#\s][^#]*?)\s*(#.*)?$")


def syntax_problems(text: str) -> tuple[Problem, ...]:
    """Every faulty line: after each one found, it is left out and the rest is tried again."""
    lines = text.split("\n")
    found: list[Problem] = []
    while len(found) < MOST:
        try:
            tomllib.loads("\n".join(lines))
        except RecursionError:
            found.append(Problem((), "brackets are nested too deep"))
            break
        except ValueError as error:
            number, column, said = _place(str(error), len(lines))
            row = lines[number - 1]
            found.append(Problem((), _sentence(said, row, column), number, f'"{_short(row)}"' if row.strip() else ""))
            if any(earlier.line == number for earlier in found[:-1]) or not row.strip():
                break
            lines[number - 1] = ""
        else:
            break
    return tuple(sorted(found, key=lambda problem: problem.line or 0))


def _place(message: str, count: int) -> tuple[int, int, str]:
    match = _PLACE.search(message)
    if match is None or match.group(1) is None:
        return count, 1, _PLACE.sub("", message)
    return min(int(match.group(1)), count), int(match.group(2)), message[: match.start()]


def _short(row: str) -> str:
    row = row.strip()
    return row if len(row) <= 50 else row[:47] + "..."


def _sentence(said: str, row: str, column: int) -> str:
    """The parser's word in a planner's language, by what stands in the line."""
    stripped = row.strip()
    if said.startswith("Cannot overwrite") or "twice" in said or "Cannot mutate" in said or "declare" in said:
        return "this stands in the file twice: keep one"
    if stripped.startswith("[") and not stripped.split("#")[0].rstrip().endswith("]"):
        return "a heading ends with a bracket, as in [joint.bolting] or [[joint]]"
    if stripped.startswith("[["):
        return "a heading in double brackets ends with two, as in [[joint]]"
    unquoted = _UNQUOTED.match(row)
    if unquoted and said.startswith(("Invalid value", "Expected newline", "Expected '='")):
        value = unquoted.group(1)
        if re.fullmatch(r"[\d.]+,\d+", value):
            return f'use a point for decimals and quotes with a unit, as in "{value.replace(",", ".")} mm"'
        if value.lower() in ("true", "false", "yes", "no"):
            return "write true or false in lower case"
        return f'write the value in quotes: "{value.rstrip(chr(34))}"'
    if "=" not in stripped and not stripped.startswith(("[", "]")):
        return 'a line is written as key = value, as in title = "..."'
    if re.search(r"=\s*$", stripped):
        return "a value is missing after ="
    if stripped.count('"') % 2 == 1:
        return "a quotation mark is missing"
    hints = {
        "Unescaped": 'a backslash inside "..." is written twice, or use single quotes',
        "Illegal character": "a character that cannot stand here (a line end inside quotes, or a control character)",
        "Unclosed array": "a list is not closed: a ] is missing",
        "Unclosed inline table": "an inline table is not closed: a } is missing",
        "Unterminated string": "a text is not closed: a quotation mark is missing",
        "Invalid initial character": f"column {column}: a key starts with a letter or a digit",
        "Expected newline": f"column {column}: something stands after the value that does not belong there",
        "Invalid value": f"column {column}: this is not a value; text stands in quotes",
    }
    for start, hint in hints.items():
        if said.startswith(start):
            return hint
    return f"column {column}: {said[:1].lower()}{said[1:]}"
