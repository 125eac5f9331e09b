"""Labels: every piece has one, at its place on the sheet to a tenth of a millimetre, and whole."""

from __future__ import annotations

import io
from contextlib import suppress
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from evencast.actions.handouts import labels
from evencast.actions.handouts.cuts import owned
from evencast.actions.handouts.handout import handout
from evencast.actions.handouts.job import Job, Wishes
from evencast.cli import main
from evencast.errors import EvencastError
from evencast.handouts.label_sheet import PAPER_MM, LabelSheet, checked_start, label_sheet
from evencast.handouts.typeset import Paper
from tests.pages import list_jobs as jobs
from tests.pages.reading import (
    MM_PER_POINT,
    assert_accessible,
    assert_like_snapshot,
    pictures,
    sizes_mm,
    text_of,
)

LARGE = "99.1 x 57 mm, 2 x 5, left 5, top 6, gap 2 x 0"
SMALL = "25 x 12 mm, 7 x 22"


@pytest.fixture(scope="module")
def rich(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return jobs.made_job(jobs.rich_plan(tmp_path_factory.mktemp("rich")))


@pytest.fixture(scope="module")
def named(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return jobs.made_job(jobs.named_plan(tmp_path_factory.mktemp("named")))


def pdf_of(job: Job, *, paper: Paper = "a4", sheet: str = "", start: int = 1) -> bytes:
    wishes = Wishes(jobs.DATE, paper=paper, labels=sheet, label_start=start)
    (made,) = labels.made(Job(job.path, job.parts, wishes))
    assert made.name == "labels.pdf"
    return made.content


def ink_mm(pdf: bytes) -> list[list[tuple[float, float, float, float]]]:
    """Left, upper, right and lower edge of every character, page by page."""
    found = []
    for page in pypdfium2.PdfDocument(io.BytesIO(pdf)):
        text, height = page.get_textpage(), page.get_height()
        boxes = [text.get_charbox(at) for at in range(text.count_chars())]
        found.append(
            [
                tuple(side * MM_PER_POINT for side in (left, height - top, right, height - bottom))
                for left, bottom, right, top in boxes
                if right > left and top > bottom
            ]
        )
    return found


def cells(sheet: LabelSheet) -> list[tuple[float, float, float, float]]:
    """Edges of every label, by plain arithmetic."""
    return [
        (
            sheet.left_mm + column * (sheet.width_mm + sheet.gap_across_mm),
            sheet.top_mm + row * (sheet.height_mm + sheet.gap_down_mm),
            sheet.left_mm + column * (sheet.width_mm + sheet.gap_across_mm) + sheet.width_mm,
            sheet.top_mm + row * (sheet.height_mm + sheet.gap_down_mm) + sheet.height_mm,
        )
        for row in range(sheet.rows)
        for column in range(sheet.columns)
    ]


def used(pdf: bytes, sheet: LabelSheet) -> list[list[int]]:
    """Labels that carry ink, page by page; no ink lies outside one."""
    places = cells(sheet)
    found = []
    for page in ink_mm(pdf):
        on = set()
        for left, upper, right, lower in page:
            inside = [
                at
                for at, (x0, y0, x1, y1) in enumerate(places)
                if x0 <= left and y0 <= upper and right <= x1 and lower <= y1
            ]
            assert len(inside) == 1, (left, upper, right, lower)
            on.add(inside[0])
        found.append(sorted(on))
    return found


def test_one_label_for_every_piece(rich: Job) -> None:
    """A piece that hangs in both set-ups has one label, with both names."""
    text = text_of(pdf_of(rich))
    pieces = owned(rich)
    assert text.count(jobs.DATE) == sum(each.count for each in pieces)
    for each in pieces:
        for number in range(1, each.count + 1 if each.count > 1 else 1):
            assert f"{each.cut.mark} {number} of {each.count} {each.cut.filter}" in text
    assert "size to be measured" in text
    assert "first evening and second evening, 2031-05-04" in text


@pytest.mark.parametrize(
    ("paper", "text"), [("a4", ""), ("letter", ""), ("a4", LARGE), ("a4", SMALL)]
)
@pytest.mark.parametrize("start", [1, 5])
def test_labels_lie_where_they_are_on_the_sheet(
    rich: Job, named: Job, paper: Paper, text: str, start: int
) -> None:
    sheet = label_sheet(text, paper)
    for job in (rich, named):
        count = sum(each.count for each in owned(job))
        pages = used(pdf_of(job, paper=paper, sheet=text, start=start), sheet)
        places = [page * sheet.count + at for page, every in enumerate(pages) for at in every]
        assert places == list(range(start - 1, start - 1 + count))


def test_a_label_begins_where_its_sheet_says(rich: Job) -> None:
    """The ink of the second label begins inside the second label, and near its left edge."""
    sheet = label_sheet("", "a4")
    (page, *_) = ink_mm(pdf_of(rich, start=2))
    left = min(box[0] for box in page if box[1] < 15.1 + 38.1)
    assert 7.2 + 63.5 + 2.5 < left < 7.2 + 63.5 + 2.5 + 4
    assert sheet.place_mm(1) == pytest.approx((7.2 + 63.5 + 2.5, 15.1))
    assert sheet.place_mm(3) == pytest.approx((7.2, 15.1 + 38.1))


def test_small_labels_can_be_read(rich: Job, named: Job) -> None:
    """Nothing is smaller than 5 points; the mark stands on every one."""
    for job in (rich, named):
        document = pypdfium2.PdfDocument(io.BytesIO(pdf_of(job, sheet=SMALL)))
        page = document[0].get_textpage()
        heights = [
            box[3] - box[1]
            for at in range(page.count_chars())
            if page.get_text_range(at, 1).isdigit() and (box := page.get_charbox(at))
        ]
        assert min(heights) > 5 * 0.7  # digits are 0.73 of the type size
        text = text_of(pdf_of(job, sheet=SMALL))
        assert all(each.cut.mark in text for each in owned(job))
    for each in owned(rich):
        assert each.cut.filter in text_of(pdf_of(rich, sheet=SMALL))
    assert "1150 × 1550 mm" in text_of(pdf_of(rich, sheet=SMALL))


def test_filters_stand_large(rich: Job) -> None:
    """On the usual sheet the filter's letters are over 4 mm: read at arm's length."""
    document = pypdfium2.PdfDocument(io.BytesIO(pdf_of(rich)))
    page = document[0].get_textpage()
    at = page.get_text_range().index("CTO")
    _, bottom, _, top = page.get_charbox(at)
    assert (top - bottom) * MM_PER_POINT > 4.0


@pytest.mark.parametrize(
    ("text", "paper", "told"),
    [
        ("63.5 mm, 3 x 7", "a4", "not a size"),
        ("63.5 x 38.1, 3 x 7", "a4", "not a size"),
        ("-63.5 x 38.1 mm, 3 x 7", "a4", "not a size"),
        ("0 x 38.1 mm, 3 x 7", "a4", "too small"),
        ("12 x 6 mm, 3 x 7", "a4", "too small"),
        ("63.5 x 38.1 mm", "a4", "no number of labels"),
        ("63.5 x 38.1 mm, three x 7", "a4", "not a grid"),
        ("63.5 x 38.1 mm, 0 x 7", "a4", "has no label"),
        ("63.5 x 38.1 mm, 4 x 7", "a4", "beyond the right edge"),
        ("63.5 x 38.1 mm, 3 x 8", "a4", "beyond the lower edge"),
        ("63.5 x 38.1 mm, 3 x 7", "letter", None),
        ("63.5 x 38.1 mm, 3 x 7, left 30", "a4", "beyond the right edge"),
        ("63.5 x 38.1 mm, 3 x 7, top 40", "a4", "beyond the lower edge"),
        ("999999 x 999999 mm, 999 x 999", "a4", "beyond the right edge"),
        ("63.5 x 38.1 mm, 3 x 7, gap 2.5", "a4", "none of left, top and gap"),
        ("63.5 x 38.1 mm, 3 x 7, left 7, left 8", "a4", "said twice"),
        ("nonsense " * 200, "a4", "not a size"),
    ],
)
def test_sheets_that_are_none(text: str, paper: Paper, told: str | None) -> None:
    if told is None:
        with pytest.raises(EvencastError):
            label_sheet(text.replace("3 x 7", "3 x 8"), paper)
        assert label_sheet(text, paper).count == 21
        return
    with pytest.raises(EvencastError, match=told) as failed:
        label_sheet(text, paper)
    assert failed.value.where == "--labels"
    assert "63.5 x 38.1 mm, 3 x 7" in failed.value.remedy


def test_a_sheet_without_edges_lies_in_the_middle() -> None:
    sheet = label_sheet("50 x 30 mm, 3 x 4, gap 5 x 2", "a4")
    assert (sheet.left_mm, sheet.top_mm) == ((210 - 160) / 2, (297 - 126) / 2)
    inches = label_sheet("2 × 1 IN, 2 X 3, top 1, left 0.5", "letter")
    assert (inches.width_mm, inches.left_mm, inches.top_mm) == (50.8, 12.7, 25.4)


@given(st.text(max_size=40))
def test_no_text_is_worse_than_an_error(text: str) -> None:
    for paper in PAPER_MM:
        with suppress(EvencastError):
            assert label_sheet(text, paper).count


@pytest.mark.parametrize("start", [0, -1, 22, 10**9])
def test_a_label_that_the_sheet_has_not(start: int) -> None:
    with pytest.raises(EvencastError, match="there is no label") as failed:
        checked_start(start, label_sheet("", "a4"))
    assert failed.value.where == "--label-start"
    assert checked_start(21, label_sheet("", "a4")) == 21


def test_a_wrong_sheet_is_told_before_anything_is_solved(rich: Job, tmp_path: Path) -> None:
    call = ["handout", str(rich.path), "--only", "labels", "--to", str(tmp_path / "out")]
    called = CliRunner().invoke(main, [*call, "--labels", "10 x 10 mm, 2 x 2"])
    assert called.exit_code == 2
    assert not (tmp_path / "out").exists()
    called = CliRunner().invoke(main, [*call, "--labels", LARGE, "--label-start", "3"])
    assert called.exit_code == 0, called.output
    pdf = (tmp_path / "out" / "labels.pdf").read_bytes()
    assert used(pdf, label_sheet(LARGE, "a4"))[0][0] == 2


def test_all_four_lists_are_written(rich: Job, tmp_path: Path) -> None:
    answer = handout(
        rich.path,
        only=["panes", "colourist", "shopping", "labels"],
        to=tmp_path,
        setup="second evening",
        wishes=Wishes(jobs.DATE),
        replace=False,
    )
    names = {Path(each.file).name for each in answer.files}
    assert names == {"panes.pdf", "colourist.pdf", "colourist.csv", "shopping.pdf",
                     "shopping.csv", "labels.pdf"}  # fmt: skip
    assert all((tmp_path / name).stat().st_size for name in names)
    assert answer.setups == ["second evening"]


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_as_it_looked(rich: Job, paper: Paper, size_mm: tuple[float, float], keep: bool) -> None:
    pdf = pdf_of(rich, paper=paper)
    assert_accessible(pdf, title="Labels: Rope loft, two evenings")
    assert set(sizes_mm(pdf)) == {size_mm}
    assert_like_snapshot(f"labels-{paper}", pdf, keep=keep)


def test_names_of_every_kind_as_they_looked(named: Job, keep: bool) -> None:
    assert_like_snapshot("labels-names", pdf_of(named), keep=keep)
    assert_like_snapshot("labels-small", pdf_of(named, sheet=SMALL), keep=keep)


def test_the_same_bytes_twice_and_in_grey(rich: Job) -> None:
    pdf = pdf_of(rich)
    assert pdf == pdf_of(rich)
    image = np.asarray(pypdfium2.PdfDocument(io.BytesIO(pdf))[0].render().to_pil().convert("RGB"))
    assert (image == image[..., :1]).all()


def test_nothing_to_label_is_said_in_one_sentence(tmp_path: Path) -> None:
    pdf = pdf_of(jobs.made_job(jobs.bare_plan(tmp_path)))
    assert "so there is nothing to label." in text_of(pdf)
    assert len(pictures(pdf)) == 1
