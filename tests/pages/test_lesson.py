"""The lesson: a page for every filter, pictures first, the answer at the end."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from tests.kits import framed_kit, plain_kit, write_kit
from tests.pages.reading import assert_accessible, assert_like_snapshot, sizes_mm, text_of
from tests.pages.test_reference import card, written

LESSON = ("--as", "lesson")


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    return write_kit(tmp_path, plain_kit())


def pages_of(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    texts = [page.get_textpage().get_text_range() for page in document]
    return [re.sub(r"\s+", " ", text.replace("\ufffe", "-")) for text in texts]


def test_every_filter_has_a_page_with_its_question_first_and_its_answer_last(plain: Path) -> None:
    rows = card(plain, *LESSON)["rows"]
    pages = pages_of(written(plain, "lesson.pdf"))
    assert len(pages) == len(rows)
    for row, page in zip(rows, pages, strict=True):
        told = row["lesson"]
        order = [
            page.index(f"Before you look: {told['question']}"),
            page.index("Camera at 3200 K"),
            page.index("bare, computed"),
            page.index("What to look for"),
            *(page.index(each) for each in told["look_for"]),
            page.index(f"Answer. {told['answer']}"),
        ]
        assert order == sorted(order), row["name"]
        assert ("stop held, computed" in page) is told["about_exposure"], row["name"]


def test_darkness_is_shown_where_it_is_the_lesson(plain: Path) -> None:
    """From half a stop; and the grey is as bright as the loss says."""
    for row in card(plain, *LESSON)["rows"]:
        assert row["lesson"]["about_exposure"] is (row["loss_stops"] >= 0.5)
        darker = [each for each in row["lesson"]["look_for"] if each.startswith("With the stop")]
        assert len(darker) == int(row["loss_stops"] >= 0.5)
        for sentence in darker:
            before, after = (float(each) for each in re.findall(r"([\d.]+) %", sentence))
            limited = any(each["filtered"][0]["limited"] for each in row["pictures"])
            if not limited:
                assert np.log2(before / after) == pytest.approx(row["loss_stops"], abs=0.12)


def test_compensated_pictures_are_as_bright_as_the_bare_ones(plain: Path) -> None:
    """ND alone: what is opened by its loss looks as it did, to a step of the display."""
    row = next(each for each in card(plain, *LESSON)["rows"] if each["name"] == "ND 0.6")
    for shown in row["pictures"]:
        for bare, opened in zip(shown["bare"], shown["compensated"], strict=True):
            codes = [
                [int(each["hex"][at : at + 2], 16) for at in (1, 3, 5)] for each in (bare, opened)
            ]
            assert np.abs(np.diff(codes, axis=0)).max() <= 3, bare["name"]


def test_what_to_look_for_is_what_the_numbers_say(plain: Path) -> None:
    """Full CTB on tungsten: orange bare at 5600 K, neutral through it, 1 2/3 stop."""
    rows = {each["name"]: each for each in card(plain, *LESSON)["rows"]}
    blue = rows["full CTB"]["lesson"]
    assert blue["look_for"][1] == (
        "At 5600 K bare tungsten is orange; through the sheet the grey is neutral, and the skins "
        "have their own colours."
    )
    assert "the sheet took 1 2/3 stop" in blue["look_for"][2]
    assert blue["question"].startswith("The camera is at 5600 K, the light is tungsten.")
    assert blue["answer"] == "134 mired cooler; 1 2/3 stop, 1.66."
    assert rows["deep green"]["lesson"]["answer"].startswith("No: what comes through has no")
    assert "2 stops, 2.05, at any balance" in rows["ND 0.6"]["lesson"]["answer"]
    assert rows["quarter minus green"]["lesson"]["answer"].startswith("strongly magenta, -0.0069.")
    assert "2/3 stop to 1 1/3 stop" in rows["medium frost"]["lesson"]["answer"]


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_it_is_accessible_has_its_size_and_looks_as_it_did(
    plain: Path, paper: str, size: tuple[float, float], keep: bool
) -> None:
    chosen = ("--only", "full CTB", "--only", "ND 0.6", "--only", "medium frost")
    card(plain, *LESSON, *chosen, "--paper", paper)
    pdf = written(plain, "lesson.pdf")
    assert_accessible(pdf, title="Filters to look at: the van")
    assert set(sizes_mm(pdf)) == {size}
    assert len(pages_of(pdf)) == 3
    assert_like_snapshot(f"lesson-{paper}", pdf, keep=keep)


def test_photographs_stand_beside_what_is_computed(tmp_path: Path, keep: bool) -> None:
    kit = framed_kit(tmp_path)
    card(kit, *LESSON)
    pdf = written(kit, "lesson.pdf")
    assert text_of(pdf).count("Photograph by Ada Moss, 2031-05-02") == 4
    assert_like_snapshot("lesson-frames", pdf, keep=keep)
