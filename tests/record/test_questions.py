"""What an inspector asks, answered from the dossier alone, from the CSV alone and from the JSON alone."""

from __future__ import annotations

import csv
import io
import json
from typing import Any

import pytest

from splitline.record.export import csv_text, json_text
from tests.record.questions import QUESTIONS, TRACED, Question
from tests.record.test_faces import Book, Rich, book_fixture, flat, made_fixture, pdf_fixture

__all__ = ["book_fixture", "made_fixture", "pdf_fixture"]
# Column title -> key of JSON, where they differ.
KEYS = {"measured": "what", "as typed": "typed", "of own work": "own_work", "signed on": "seen"}


@pytest.fixture(name="rows", scope="module")
def rows_fixture(book: Book) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(csv_text(book.built))))


@pytest.fixture(name="facts", scope="module")
def facts_fixture(book: Book) -> list[dict[str, Any]]:
    return list(json.loads(json_text(book.built, book.record.entries))["facts"])


def test_there_are_twenty() -> None:
    assert len({question.text for question in QUESTIONS}) == 20
    assert len({question.text for question in (*QUESTIONS, *TRACED)}) == 20 + len(TRACED)


@pytest.mark.parametrize("question", [*QUESTIONS, *TRACED], ids=lambda question: question.text)
def test_answered_from_the_dossier_alone(question: Question, made: Rich, pdf: dict[str, str]) -> None:
    assert flat(question.words.format(**made.known)) in pdf[question.sheet]


@pytest.mark.parametrize("question", [*QUESTIONS, *TRACED], ids=lambda question: question.text)
def test_answered_from_the_csv_alone(question: Question, made: Rich, rows: list[dict[str, str]]) -> None:
    wanted = {key: value.format(**made.known) for key, value in question.rows.items()}
    found = [row for row in rows if all(row[key] == value for key, value in wanted.items())]
    column, answer = question.answer
    assert found
    assert any(answer.format(**made.known) in row[column] for row in found)


@pytest.mark.parametrize("question", [*QUESTIONS, *TRACED], ids=lambda question: question.text)
def test_answered_from_the_json_alone(question: Question, made: Rich, facts: list[dict[str, Any]]) -> None:
    def told(fact: dict[str, Any], title: str) -> str:
        value = fact.get(KEYS.get(title, title.replace(" ", "_")), 0 if title == "count" else "")
        return "yes" if value is True else "; ".join(map(str, value)) if isinstance(value, list) else str(value)

    wanted = {key: value.format(**made.known).removeprefix("struck ") for key, value in question.rows.items()}
    found = [fact for fact in facts if all(told(fact, key) == value for key, value in wanted.items())]
    title, answer = question.answer
    assert found
    assert any(answer.format(**made.known) in told(fact, title) for fact in found)
