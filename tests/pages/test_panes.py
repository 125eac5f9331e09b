"""The list of panes and frames, read back from the PDF and held against what `solve` says."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from evencast.actions.handouts import panes
from evencast.actions.handouts.cuts import cuts, letters
from evencast.actions.handouts.job import Job
from evencast.cli import main
from evencast.handouts.typeset import Paper
from tests.pages import list_jobs as jobs
from tests.pages.reading import (
    assert_accessible,
    assert_like_snapshot,
    pictures,
    sizes_mm,
    text_of,
)


@pytest.fixture(scope="module")
def rich(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return jobs.made_job(jobs.rich_plan(tmp_path_factory.mktemp("rich")))


def pdf_of(job: Job) -> bytes:
    (made,) = panes.made(job)
    assert made.name == "panes.pdf"
    return made.content


def solved(path: Path, setup: str) -> dict[str, object]:
    called = CliRunner().invoke(main, ["solve", str(path), "--setup", setup, "--json"])
    assert called.exit_code == 0
    answer: dict[str, object] = json.loads(called.stdout)
    return answer


def test_pieces_and_areas_are_those_of_solve(rich: Job) -> None:
    text = text_of(pdf_of(rich))
    for part, mine in zip(rich.parts, cuts(rich), strict=True):
        answer = solved(rich.path, part.name)
        told = f"{answer['pieces']} pieces of sheet, {answer['area_m2']:.1f} m²"
        assert told in text
        assert sum(each.count for each in mine if not each.is_frost) == answer["pieces"]
        area_m2 = sum(
            each.piece.width_mm * each.piece.height_mm * each.count / 1e6
            for each in mine
            if each.piece and not each.is_frost
        )
        assert area_m2 == pytest.approx(answer["area_m2"], abs=0.001)


def test_sizes_marks_and_strips(rich: Job) -> None:
    """Panes 25 mm over on every side; 1550 mm in strips of 530 at most: n x 530 - (n - 1) x 25 >=
    1550 asks for 4, each (1550 + 3 x 25) / 4 = 406 mm high; frames as they are."""
    text = text_of(pdf_of(rich))
    assert "1150 × 1550 mm" in text
    assert "glass 1100 × 1500 mm" in text
    assert "4 strips of 1150 × 406 mm, joined at their upper and lower edges" in text
    assert "170 × 170 mm" in text
    found = {(each.mark, each.sides_mm) for mine in cuts(rich) for each in mine}
    assert found == {
        ("1a", (1100.0, 1500.0)),
        ("1b", (400.0, 900.0)),
        ("2a", (170.0, 170.0)),
        ("2b", (260.0, 260.0)),  # another size in the second set-up has a letter of its own
        ("3a", None),
    }
    for mark, _ in found:
        assert mark in text
    assert "measure: _____ × _____" in text
    assert "1 piece to be measured first" in text


def test_what_the_stock_lacks_is_told(rich: Job) -> None:
    text = text_of(pdf_of(rich))
    assert "Nothing of it is in stock." in text  # the frost
    assert "every lap of 25 mm shows as a stripe of double density" in text


def test_rules_and_cautions_stand_beside_the_sizes(rich: Job) -> None:
    text = text_of(pdf_of(rich))
    for told in (
        "common practice, no source",
        "a little under its size",
        "25 mm over the glass",
        "Never write across the beam",
        "Window: dark film can crack",
        "Heat:",
        "Work at height",
    ):
        assert told in text
    cautions = {
        each for part in rich.parts for light in part.answer.lights[:3] for each in light.cautions
    }
    assert all(" ".join(each.split()) in text for each in cautions)


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_accessible_in_its_size(rich: Job, paper: Paper, size_mm: tuple[float, float]) -> None:
    job = jobs.made_job(rich.path, paper=paper)
    pdf = pdf_of(job)
    assert_accessible(pdf, title="Panes and frames: Rope loft, two evenings")
    assert set(sizes_mm(pdf)) == {size_mm}
    assert ("45 1/4 × 61 in" in text_of(pdf)) == (paper == "letter")  # 1150 / 25.4 = 45.28


def test_the_same_bytes_twice(rich: Job) -> None:
    assert pdf_of(rich) == pdf_of(rich)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_as_it_looked(rich: Job, paper: Paper, keep: bool) -> None:
    pdf = pdf_of(jobs.made_job(rich.path, paper=paper))
    assert_like_snapshot(f"panes-{paper}", pdf, keep=keep)


def test_names_of_every_kind_stay_on_the_page(tmp_path: Path) -> None:
    job = jobs.made_job(jobs.named_plan(tmp_path))
    pdf = pdf_of(job)
    assert_margins(pdf)
    text = text_of(pdf)
    for told in (jobs.LONG_NAME, jobs.NAMES[2], "[U+1F3AC] lamp"):
        assert told.replace(" ", "") in text.replace(" ", "")


def assert_margins(pdf: bytes) -> None:
    """Nothing on the outer 12 mm of any page at either side."""
    for page in pictures(pdf):
        edge = page.shape[1] * 12 // 216
        assert page[:, :edge].min() > 250
        assert page[:, -edge:].min() > 250


def test_two_hundred_panes_and_forty_lights(tmp_path: Path) -> None:
    """One row for equal panes; the headings come again on every page."""
    job = jobs.made_job(jobs.large_plan(tmp_path))
    pdf = pdf_of(job)
    text = text_of(pdf)
    assert "200 panes" in text
    assert "of 200" in text
    assert_margins(pdf)
    pages = len(sizes_mm(pdf))
    assert pages >= 3
    assert len(re.findall("Width × height", text)) >= pages - 1


@pytest.mark.parametrize(
    "lights", ["", '[[light]]\nname = "sun"\nrole = "key"\nbuiltin = "daylight D55"\n']
)
def test_nothing_to_cut_is_said_in_one_sentence(tmp_path: Path, lights: str) -> None:
    pdf = pdf_of(jobs.made_job(jobs.bare_plan(tmp_path, lights=lights)))
    assert "Nothing is to be cut here: no light takes a sheet." in text_of(pdf)
    assert_accessible(pdf, title="Panes and frames: Bare")
    assert len(sizes_mm(pdf)) == 1


def test_letters() -> None:
    assert [letters(place) for place in (0, 25, 26, 51, 52, 701, 702)] == [
        "a", "z", "aa", "az", "ba", "zz", "aaa",
    ]  # fmt: skip
