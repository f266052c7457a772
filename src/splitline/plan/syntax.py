"""TOML that does not parse: which lines, and what to write instead."""

from __future__ import annotations

import re
import tomllib

from splitline.plan.problem import Problem

MOST = 20
_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_LIST = re.compile(r"\s*[\w.\"' -]+=\s*([\[{])")
_STATEMENT = re.compile(r"\s*(?:\[\[?\s*[A-Za-z]|[\w.-]+\s*=)")
_QUOTED = re.compile(r"\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'|#[^\n]*")
_IN_LIST = "in a list, values stand in quotes with commas between them, and a ] ends it"
_CLOSES = {"[": "]", "{": "}"}
_UNQUOTED = re.compile(r"^\s*[\w.-]+\s*=\s*([^\"'\[{#\s][^#]*?)\s*(#.*)?$")


def syntax_problems(text: str) -> tuple[tuple[Problem, ...], str | None]:
    """Every faulty line: each one found is left empty and the rest tried again; also that rest, if it parses in the end."""
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
            first, sentence, start = _blamed(lines, number, column, said)
            row = lines[first - 1]
            found.append(Problem((), sentence, first, f'"{_short(row)}"' if row.strip() else ""))
            if not row.strip() or "text is not closed" in sentence:
                break
            last = _last_line(lines, start)
            lines[start - 1 : last] = [""] * (last - start + 1)
        else:
            return tuple(sorted(found, key=lambda problem: problem.line or 0)), "\n".join(lines)
    return tuple(sorted(found, key=lambda problem: problem.line or 0)), None


def _blamed(lines: list[str], number: int, column: int, said: str) -> tuple[int, str, int]:
    """The line that is at fault, what to write, and the line its value starts on: a list may be left open far above."""
    for mark in ('"""', "'''"):
        holding = [n for n, row in enumerate(lines[:number], 1) if mark in row]
        if number == len(lines) and sum(lines[n - 1].count(mark) for n in holding) % 2:
            return holding[-1], f"a text is not closed: {mark} is missing at its end", holding[-1]
    row = lines[number - 1]
    opener = _opener(lines, number)
    if opener is None:
        return number, _sentence(said, row, column), number
    if row.strip() and not _STATEMENT.match(row):  # inside the list
        return number, f"column {column}: {_IN_LIST}", opener
    bracket = lines[opener - 1].partition("=")[2].strip()[0]
    word = "list" if bracket == "[" else "table"
    return opener, f"a {word} is not closed: a {_CLOSES[bracket]} is missing", opener


def _opener(lines: list[str], number: int) -> int | None:
    """The line above on which a value was opened that is still open."""
    starts = (n for n in range(number - 1, 0, -1) if _LIST.match(lines[n - 1]))
    first = next(starts, None)
    return first if first is not None and _open("\n".join(lines[first - 1 : number - 1])) > 0 else None


def _open(text: str) -> int:
    """How many brackets of the values in a text are still open."""
    text = _QUOTED.sub("", text.partition("=")[2])
    return text.count("[") + text.count("{") - text.count("]") - text.count("}")


def _last_line(lines: list[str], first: int) -> int:
    """The last line of a value that goes over several: up to the next key or heading, or its closing bracket."""
    last = first
    while last < len(lines) and _open("\n".join(lines[first - 1 : last])) > 0 and not _STATEMENT.match(lines[last]):
        last += 1
    return last


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
    heading = re.match(r"\[\[?\s*[A-Za-z]", stripped)
    if heading and not stripped.split("#")[0].rstrip().endswith("]"):
        return "a heading ends with a bracket, as in [joint.bolting] or [[joint]]"
    if heading and stripped.startswith("[["):
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
        "Unclosed array": f"column {column}: {_IN_LIST}",
        "Unclosed inline table": f"column {column}: in braces, key = value pairs stand with commas between them, and a }} ends it",
        "Unterminated string": "a text is not closed: a quotation mark is missing",
        "Invalid initial character": f"column {column}: a key starts with a letter or a digit",
        "Expected '='": 'a line is written as key = value, as in title = "..."',
        "Found invalid character": "a control character stands here: type the text again",
        "Expected newline": f"column {column}: something stands after the value that does not belong there",
        "Invalid value": f"column {column}: this is not a value; text stands in quotes",
    }
    for start, hint in hints.items():
        if said.startswith(start):
            return hint
    return f"column {column}: {said[:1].lower()}{said[1:]}"
