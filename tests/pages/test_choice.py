"""The choice: half a page whose numbers are those of `solve --json`."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

import numpy as np
import pikepdf
import pypdfium2
import pytest

from evencast.actions.handouts import choice
from evencast.actions.handouts.job import Job, job
from evencast.actions.picture import picture
from evencast.cli.main import main
from evencast.filters import generic
from evencast.handouts.typeset import Paper
from evencast.lights import builtin
from evencast.quantities import say_left, say_stops
from tests.pages.jobs import LONG, ROUGH_SETUP, WISHES, on_paper
from tests.pages.reading import (
    assert_accessible,
    assert_like_snapshot,
    pictures,
    sizes_mm,
    text_of,
)
from tests.plans import write_plan

A4, LETTER = (210.0, 297.0), (215.9, 279.4)


def made(ready: Job) -> bytes:
    (file,) = choice.made(ready)
    assert file.name == "choice.pdf"
    return file.content


def alts(pdf: bytes) -> list[str]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [
            str(each.Alt)
            for each in opened.objects
            if isinstance(each, pikepdf.Dictionary)
            and each.get("/S") == "/Figure"
            and "/Alt" in each
        ]


def last_ink_mm(pdf: bytes) -> float:
    """How far down the first page anything stands, its footer aside."""
    (page, *_) = pictures(pdf, dots_per_inch=72.0)
    per_mm = 72.0 / 25.4
    body = page[: -int(16.0 * per_mm)]
    return float(np.flatnonzero((body < 250).any(axis=1))[-1] / per_mm)


def test_the_balances_stand_side_by_side_as_solve_tells_them(
    demo: Job, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main(["solve", str(demo.path), "--json"])
    said: dict[str, Any] = json.loads(capsys.readouterr().out)
    text = text_of(made(demo))
    ways = said["alternatives"]
    assert len(ways) == 4
    rows = {
        "pieces": [str(each["pieces"]) for each in ways],
        "of sheet": [f"{each['area_m2']:.1f} m²" for each in ways],
        "time": [
            f"{int(each['minutes']) // 60} h {int(each['minutes']) % 60:02d} min" for each in ways
        ],
        "loses most": [f"{say_stops(each['loss_stops'])}, {each['loses_most']}" for each in ways],
        "off": [", ".join(each["off_colour"]) or "nothing" for each in ways],
    }
    for name, told in rows.items():
        assert " ".join([name, *told]) in text, name
    heads = [f"{each['balance']['cct_k']:.0f} K" for each in ways]
    at = [text.index(head, text.index("Balance 4300 K")) for head in heads]
    assert at == sorted(at)
    assert "4300 K recommended, fewest pieces" in text
    assert said["why"] in text
    assert "Balance at 4300 K; of 7 lights put sheets on 4, dial 1, dim 2, swap 1, leave 2." in text


def test_spots_and_what_stays_off_are_told(demo: Job) -> None:
    answer, text = demo.parts[0].answer, text_of(made(demo))
    assert len(answer.spots) == 3
    for spot in answer.spots:
        looks = say_left(spot.residual_mired, spot.residual_duv)
        assert f"{spot.name} {looks} f/" in text
    assert text.count("inside") >= 3
    assert "8 yard lamp: 278 mired warm, harmless at every spot" in text


def test_pictures_are_those_of_look(demo: Job) -> None:
    """Bare and as it hangs at the best balance, computed here by the names alone."""
    found = alts(made(demo))
    assert len(found) == 9
    lamp = builtin("tungsten 3200 K")
    best = demo.parts[0].answer.balance
    assert best.cct_k is not None
    bare = picture(lamp, [], balance_k=best.cct_k, balance_duv=best.duv, exposure="compensated")
    grey, light_skin, dark_skin = (f"{each.name} {each.hex}" for each in bare.bare[:3])
    assert found[0].startswith("key Fresnel bare, balanced at 4300 K")
    assert f": {grey}, {light_skin} and {dark_skin}. Computed." in found[0]
    text = text_of(made(demo))
    away = 1e6 / 3200.0 - 1e6 / best.cct_k
    assert f"light 1, bare {away:.0f} mired warm 0 mired" in text
    hung = demo.parts[0].answer.lights[0]
    assert hung.filters == ["three-quarter CTB"]
    assert f"as it hangs {abs(hung.residual_mired or 0.0):.0f} mired cool" in text
    colder = picture(lamp, [generic("three-quarter CTB")], balance_k=4300.0)
    assert colder.filtered[0].hex != bare.bare[0].hex
    assert "computed for the eye, not a photograph" in text


def test_the_chart_numbers_lights_as_the_cards_do(demo: Job) -> None:
    (chart,) = (each for each in alts(made(demo)) if "harmless" in each or "yard lamp" in each)
    for name, number in demo.parts[0].numbers.items():
        assert f"{number} {name}" in chart or name == "garden"


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", A4), ("letter", LETTER)])
def test_a_set_up_takes_half_a_page(demo: Job, paper: Paper, size_mm: tuple[float, float]) -> None:
    pdf = made(on_paper(demo, paper))
    assert sizes_mm(pdf) == [size_mm]
    assert 100.0 < last_ink_mm(pdf) < size_mm[1] / 2
    assert_accessible(pdf, title="Hand bindery, late afternoon: the choice")


def test_two_set_ups_share_a_page_and_a_third_begins_the_next(demo: Job) -> None:
    part = demo.parts[0]
    for paper in get_args(Paper):
        for count, expected in ((2, 1), (3, 2), (4, 2)):
            pdf = made(on_paper(replace(demo, parts=[part] * count), paper))
            assert len(sizes_mm(pdf)) == expected
    page = pypdfium2.PdfDocument(made(replace(demo, parts=[part, part])))[0]
    text = page.get_textpage()
    found = text.search("Hand bindery, late afternoon")
    tops = []
    while at := found.get_next():
        tops.append(text.get_charbox(at[0])[3] * 25.4 / 72.0)
    assert len(tops) == 3  # two headings and the footer
    assert 297.0 / 2 - 9.0 < tops[1] < 297.0 / 2 - 6.0  # from below


def test_more_lights_take_more_room_and_none_is_cut(demo: Job) -> None:
    part = demo.parts[0]
    entry, planned = part.loaded.plan.light[0], part.answer.lights[0]
    names = ["key Fresnel", *(f"lamp {place} by the wall" for place in range(2, 41))]
    lights = [replace(planned, name=name, within_tolerance=False) for name in names]
    plan = part.loaded.plan.model_copy(
        update={"light": tuple(entry.model_copy(update={"name": name}) for name in names)}
    )
    answer = replace(part.answer, lights=lights, views=[])
    many = replace(part, answer=answer, loaded=replace(part.loaded, plan=plan))
    pdf = made(replace(demo, parts=[many, part]))
    text = text_of(pdf)
    for number, name in enumerate(names, 1):
        assert f"{number} {name}: 2 ± 3 mired cool" in text
    assert len(sizes_mm(pdf)) >= 2
    assert text.count("recommended") == 2


def test_names_of_every_kind(rough: Job) -> None:
    (file,) = choice.made(rough)
    text = text_of(file.content)
    assert ROUGH_SETUP in text
    assert LONG in text  # beside the pictures, in full
    assert "loses most" in text
    assert "light 1" in text
    assert any("U+1F3AC" in each.message for each in file.problems)
    assert_accessible(file.content, title="Hand bindery, late afternoon: the choice")


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_runs_off_the_page(rough: Job, paper: Paper) -> None:
    for page in pictures(made(on_paper(rough, paper)), dots_per_inch=72.0):
        edge = int(16.0 * 72.0 / 25.4)
        assert page[:, :edge].min() > 250
        assert page[:, -edge:].min() > 250


def test_only_pictures_have_colour(demo: Job) -> None:
    """No meaning hangs on colour: without pictures and chart the page is ink alone."""
    part = demo.parts[0]
    no_balance = replace(part.answer.balance, cct_k=None, mired=None)
    ways = [replace(each, balance=no_balance) for each in part.answer.alternatives]
    plain = replace(part, answer=replace(part.answer, balance=no_balance, alternatives=ways))
    (page,) = pypdfium2.PdfDocument(made(replace(demo, parts=[plain])))
    red, green, blue = page.render(scale=1.0).to_pil().convert("RGB").split()
    assert red.tobytes() == green.tobytes() == blue.tobytes()


def test_a_plan_without_lights(tmp_path: Path) -> None:
    ready = job(write_plan(tmp_path, ""), WISHES, setup=None, progress=None)
    pdf = made(ready)
    assert "No light is in the plan yet" in text_of(pdf)
    assert_accessible(pdf, title="levels: the choice")


def test_the_same_plan_gives_the_same_page(demo: Job) -> None:
    assert made(demo) == made(demo)


def test_it_looks_as_it_did(demo: Job, rough: Job, keep: bool) -> None:
    assert_like_snapshot("choice-a4", made(demo), keep=keep)
    assert_like_snapshot("choice-letter", made(on_paper(demo, "letter")), keep=keep)
    assert_like_snapshot("choice-rough", made(rough), keep=keep)
