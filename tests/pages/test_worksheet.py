"""The worksheet on paper: what the answers say, accessible, and as it was looked at."""

from __future__ import annotations

import pytest

from evencast.actions.lessons.worksheet import TITLE, worksheet, worksheet_pdf
from evencast.handouts.typeset import Paper
from tests.pages.reading import (
    assert_accessible,
    assert_like_snapshot,
    pictures,
    sizes_mm,
    text_of,
)


def made(*, paper: Paper = "a4", date: str = "2031-05-04", answers: str = "yes") -> bytes:
    return worksheet_pdf(paper=paper, date=date, answers=answers)


def flat(text: str) -> str:
    """Without spaces: where a line breaks is the layout's business."""
    return "".join(text.split())


@pytest.mark.parametrize("answers", ["yes", "no"])
@pytest.mark.parametrize(("paper", "size_mm"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_it_is_accessible_and_has_its_size(
    paper: Paper, size_mm: tuple[float, float], answers: str
) -> None:
    pdf = made(paper=paper, answers=answers)
    assert_accessible(pdf, title=TITLE)
    assert set(sizes_mm(pdf)) == {size_mm}


def test_it_says_what_the_answers_say() -> None:
    text = flat(text_of(made()))
    for each in worksheet().exercises:
        for told in (each.title, each.asks, each.answer, *each.given, *each.steps):
            assert flat(told) in text
    for told in (*worksheet().notes, *worksheet().cautions):
        assert flat(told) in text


def test_without_answers_it_gives_none_away() -> None:
    text = flat(text_of(made(answers="no")))
    for each in worksheet().exercises:
        assert flat(each.asks) in text
        assert flat(each.answer) not in text
        assert not any(flat(step) in text for step in each.steps)


def test_answers_stand_on_pages_of_their_own() -> None:
    """Nothing of them on the pages that are handed out first."""
    questions, both = pictures(made(answers="no")), pictures(made())
    assert len(questions) < len(both)
    for before, after in zip(questions, both, strict=False):
        body = before.shape[0] * 9 // 10
        assert (before[:body] == after[:body]).all()


def test_without_a_date_there_is_none() -> None:
    assert "2031" not in text_of(made(date="", answers="no"))


def test_the_same_wishes_give_the_same_bytes() -> None:
    assert made() == made()


def test_nothing_runs_off_the_page() -> None:
    for paper in ("a4", "letter"):
        for page in pictures(made(paper=paper)):
            edge = page.shape[1] * 12 // 210
            assert page[:, :edge].min() > 250
            assert page[:, -edge:].min() > 250


def test_it_looks_as_it_did(keep: bool) -> None:
    assert_like_snapshot("worksheet", made(), keep=keep)
