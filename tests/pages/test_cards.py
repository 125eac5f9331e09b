"""Lamp cards: what stands on them is what `solve --json` says; they can be read, and scanned."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pypdfium2
import pytest
from PIL import Image

from evencast.actions.handouts import cards
from evencast.actions.handouts.job import Job, job
from evencast.cli.main import main
from evencast.handouts.anchor import anchor
from evencast.handouts.cards import Card, Cards, Step
from evencast.handouts.qr import qr_code
from evencast.handouts.typeset import Document, Paper, typeset
from evencast.quantities import say_duv
from tests.pages.jobs import (
    ADDRESS,
    LONG,
    ROUGH_NAMES,
    ROUGH_SETUP,
    WISHES,
    WORD,
    on_paper,
)
from tests.pages.reading import (
    MM_PER_POINT,
    assert_accessible,
    assert_like_snapshot,
    pictures,
    sizes_mm,
    text_of,
)
from tests.plans import light, write_plan

CARD = Card("1", "north window", "fill", [Step("1", "half CTO")], [], "", [], [], [])
A5, HALF_LETTER = (148.0, 210.0), (139.7, 215.9)


def made(ready: Job) -> bytes:
    (file,) = cards.made(ready)
    assert file.name == "lamp-cards.pdf"
    return file.content


def pages(pdf: bytes) -> list[str]:
    """Text of every page, white space and places to break taken out of the reckoning."""
    document = pypdfium2.PdfDocument(pdf)
    texts = [page.get_textpage().get_text_range() for page in document]
    return [
        re.sub(r"\s+", " ", each.replace("\u200b", "").replace("\ufffe", "-")) for each in texts
    ]


def by_light(pdf: bytes, names: list[str]) -> dict[str, str]:
    """Text of a light's pages, by its name; for cards of one set-up."""
    found: dict[str, str] = {}
    for text in pages(pdf):
        number = int(text.split()[0])
        found[names[number - 1]] = found.get(names[number - 1], "") + " " + text
    return found


def test_a_card_says_what_solve_says(demo: Job, capsys: pytest.CaptureFixture[str]) -> None:
    """Every number, from the JSON that other programs get."""
    with pytest.raises(SystemExit):
        main(["solve", str(demo.path), "--json"])
    said: dict[str, Any] = json.loads(capsys.readouterr().out)
    stops = {each["name"]: each for each in said["exposure"]["lights"]}
    told = by_light(made(demo), [each.name for each in demo.parts[0].loaded.plan.light])
    assert len(told) == 8
    for each in said["lights"]:
        text = told[each["name"]]
        places = [text.index(name) for name in each["filters"]]
        assert places == sorted(places)
        assert f"{each['filtered']['cct_k']:.0f} K" in text
        green = say_duv(each["filtered"]["green_duv"])
        assert f"{each['filtered']['duv']:+.4f}, {green}" in text
        if each["band"]:
            low, high = each["band"]["cct_k"]
            assert f"{low:.0f} to {high:.0f}" in text
            assert f"{each['share_within']:.0%} likely" in text
        assert f"{abs(each['residual_mired']):.0f}" in text.split("Comes out")[1]
        assert f"{each['tolerance']['mired_high']:g} " in text.split("Shall look")[1]
        for caution in each["cautions"]:
            assert caution in text
        assert stops[each["name"]]["f_number"]
    assert "f/4 to f/5" in told["key Fresnel"]
    assert "at index 800, 1/50 s" in told["key Fresnel"]


def test_a_card_says_what_to_cut_where_it_stands_and_what_it_hangs_on(demo: Job) -> None:
    told = by_light(made(demo), [each.name for each in demo.parts[0].loaded.plan.light])
    assert "1 piece, 170 × 170 mm" in told["key Fresnel"]
    assert "3 pieces, 1150 × 1550 mm; 25 mm over the glass all round" in told["north window"]
    assert "2 pieces, 102 × 600 mm, of each sheet" in told["stair tubes"]
    assert "flood, 3 m from the subject" in told["key Fresnel"]
    (load,) = demo.parts[0].answer.circuits
    amps = f"{load.load.amps:.1f} A of {load.load.limit_a:.1f} A that may stay on"
    assert f"bench sockets: {amps}, {load.load.left_a:.1f} A left" in told["edge panel"]
    for caution in load.load.cautions:
        assert caution in told["key Fresnel"]
        assert caution not in told["north window"]
    assert "10 mired cool beside the balance, 4300 K; within 12 mired" in told["north window"]
    letter = by_light(made(on_paper(demo, "letter")), [*told])
    assert "6 11/16 × 6 11/16 in (170 × 170 mm)" in letter["key Fresnel"]
    assert "9.8 ft (3 m) from the subject" in letter["key Fresnel"]


def test_what_is_not_a_sheet_is_told_too(demo: Job) -> None:
    told = by_light(made(demo), [each.name for each in demo.parts[0].loaded.plan.light])
    assert "dim 2/3 stop" in told["key Fresnel"]
    assert "dial 4300 K" in told["edge panel"]
    assert "swap for cool bulb" in told["bench lamp"]
    assert "leave as it is" in told["ceiling tubes"]
    assert "off its colour, but harmless at every spot" in told["yard lamp"]
    assert "light frost frost, lit 340 mm wide" in told["edge panel"]
    garden = told["garden"]
    assert "seen through light 2, north window" in garden
    assert "half CTO on the window, by its own card" in garden
    assert "no ND" in garden
    (view,) = demo.parts[0].answer.views
    assert view.nd[0].nd == []
    assert "2 1/3 stops over the shot" in garden


def test_what_was_rigged_and_read_stands_on_the_card_where_it_differs(rough: Job) -> None:
    every = pages(made(rough))
    first = every[0] + every[1]
    assert "Rigged otherwise: half CTB, half CTB, double scrim, 2.5 m, spot." in first
    assert "spot, 2.5 m from the subject, 2.4 m high" in first
    assert "flag left; sandbag" in first
    assert "4180 K +0.0021, a little green f/4.5 2031-05-04 16:20+02:00 thin cloud frame" in first
    window = next(each for each in every if each.startswith("2 "))
    assert "4500 K on the camera, tint 4 toward magenta 200 lx" in window
    hung = rough.parts[0].answer.lights[1].filters
    assert ("Kept in the plan otherwise: half CTO." in window) == (hung != ["half CTO"])
    assert any("Kept in the plan otherwise: switched off." in each for each in every)
    spare = next(each for each in every if "spare lamps" in each)
    assert "switch off" in spare
    assert "3 lamps" in spare
    assert "expected" not in spare


def test_names_of_every_kind_are_whole(rough: Job) -> None:
    text = text_of(made(rough)).replace(" ", "")
    for name in [*ROUGH_NAMES.values(), ROUGH_SETUP]:
        shown = name.replace("🎬", "[U+1F3AC]").replace(" ", "")
        right_to_left = any("\u0590" <= each < "\u0700" for each in name)
        assert shown in text or right_to_left, name
    (file,) = cards.made(rough)
    (problem,) = file.problems
    assert "U+1F3AC" in problem.message


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_runs_off_a_card(rough: Job, paper: Paper) -> None:
    """Margins stay white left and right, and so does the gap above the footer."""
    for page in pictures(made(on_paper(rough, paper)), dots_per_inch=72.0):
        per_mm = page.shape[1] / (148.0 if paper == "a4" else 139.7)
        edge = int(8.0 * per_mm)
        assert page[:, :edge].min() > 250
        assert page[:, -edge:].min() > 250
        assert page[-int(3.0 * per_mm) :].min() > 250


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", A5), ("letter", HALF_LETTER)])
def test_cards_are_accessible_and_have_their_size(
    demo: Job, paper: Paper, size_mm: tuple[float, float]
) -> None:
    pdf = made(on_paper(demo, paper))
    assert_accessible(pdf, title="Hand bindery, late afternoon: lamp cards")
    assert set(sizes_mm(pdf)) == {size_mm}


def test_every_card_is_a_heading_and_its_code_has_words(demo: Job) -> None:
    pdf = made(demo)
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        tags = [
            (str(each.get("/S")), str(each.get("/Alt", "")))
            for each in opened.objects
            if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/StructElem"
        ]
    assert [tag for tag, _ in tags].count("/H1") == 8
    assert [tag for tag, _ in tags].count("/Table") == 8
    assert [tag for tag, _ in tags].count("/TH") == 8 * 5
    alts = {alt for tag, alt in tags if tag == "/Figure"}
    lights = demo.parts[0].loaded.plan.light
    assert alts == {f"QR code of {ADDRESS}#{anchor(each.name, '')}" for each in lights}


def test_numbers_and_stacks_are_large(demo: Job) -> None:
    """Digits of 3 cm; the stack in letters of 6 mm and more."""
    for place, page in enumerate(pypdfium2.PdfDocument(made(demo))):
        text = page.get_textpage()
        digit = text.get_charbox(0)
        if place == 0:
            assert (digit[3] - digit[1]) * MM_PER_POINT >= 28.0
            found = text.search("three-quarter CTB")
            at, _ = found.get_next()
            box = text.get_charbox(at + 1)  # the "h", as high as a capital
            assert (box[3] - box[1]) * MM_PER_POINT >= 6.0


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_codes_lead_to_their_light(rough: Job, paper: Paper) -> None:
    """Read as a phone would: off a grey picture of 150 dots to the inch."""
    import zxingcpp

    pdf = made(on_paper(rough, paper))
    read = []
    for page in pictures(pdf, dots_per_inch=150.0):
        read += [each.text for each in zxingcpp.read_barcodes(page.astype(np.uint8))]
    expected = [
        f"{ADDRESS}#{anchor(each.name, part.name)}"
        for part in rough.parts
        for each in part.loaded.plan.light
    ]
    assert read == expected
    assert len(set(read)) == len(read) == 20


def test_a_code_is_large_enough_and_stands_in_white(demo: Job) -> None:
    """At least 25 mm of code, four modules of white around it."""
    dots = 300.0
    (page, *_) = pictures(made(demo), dots_per_inch=dots)
    per_mm = dots / 25.4
    dark = page < 128
    top, left = int(8 * per_mm), int(105 * per_mm)
    corner = dark[top : top + int(34 * per_mm), left:]
    high, wide = (np.flatnonzero(corner.any(axis=axis)) for axis in (1, 0))
    side = wide[-1] - wide[0] + 1
    assert side / per_mm >= 24.9
    assert abs(side - (high[-1] - high[0] + 1)) <= 2
    module = np.argmin(corner[high[0] + 2, wide[0] + 2 :]) / 7.0  # the frame of a corner mark
    around = int(4 * module)
    rows = slice(top + high[0] - around, top + high[-1] + 1 + around)
    columns = slice(left + wide[0] - around, left + wide[-1] + 1 + around)
    assert dark[rows, columns].sum() == corner.sum()


def test_without_an_address_there_is_no_code_and_no_hole(demo: Job) -> None:
    with_code, without = made(demo), made(on_paper(demo, "a4", address=""))
    with pikepdf.open(io.BytesIO(without)) as opened:
        tags = [
            str(each.get("/S"))
            for each in opened.objects
            if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/StructElem"
        ]
    assert "/Figure" not in tags
    name = "north window"
    wide = {}
    for key, pdf in (("with", with_code), ("without", without)):
        page = next(
            each
            for each in pypdfium2.PdfDocument(pdf)
            if name in each.get_textpage().get_text_range()
        )
        found = page.get_textpage().search(name[0])
        at, _ = found.get_next()
        wide[key] = page.get_textpage().get_charbox(at)
    assert wide["without"][3] - wide["without"][1] >= wide["with"][3] - wide["with"][1]


def test_cards_are_ink_alone(rough: Job) -> None:
    for page in pypdfium2.PdfDocument(made(rough)):
        red, green, blue = page.render(scale=0.5).to_pil().convert("RGB").split()
        assert red.tobytes() == green.tobytes() == blue.tobytes()


def test_the_same_plan_gives_the_same_cards(demo: Job) -> None:
    assert made(demo) == made(demo)


@pytest.mark.parametrize("sheets", [0, 1, 6])
@pytest.mark.parametrize("name", ["half CTB", LONG, WORD])
def test_no_stack_is_pushed_off_its_card(demo: Job, sheets: int, name: str) -> None:
    """However long the names, stack and readings stand on the card's first page."""
    part = demo.parts[0]
    lights = [
        replace(each, name=each.name, filters=[f"{place} {name}" for place in range(sheets)])
        for each in part.answer.lights[:1]
    ]
    one = replace(
        part,
        answer=replace(part.answer, lights=lights),
        loaded=replace(
            part.loaded,
            plan=part.loaded.plan.model_copy(update={"light": part.loaded.plan.light[:1]}),
        ),
    )
    (first, *_) = pages(made(replace(demo, parts=[one])))
    for place in range(sheets):
        assert f"{place} {name}".replace(" ", "") in first.replace(" ", "")
    assert "expected" in first
    assert "dim 2/3 stop" in first


def test_a_number_of_any_length_leaves_room_for_the_name(demo: Job) -> None:
    code = qr_code(ADDRESS)
    card = replace(CARD, qr=code.svg, qr_alt="a code", qr_mm=code.width_mm)
    content = Cards([replace(card, number=str(10**place)) for place in range(6)], "")
    (pdf,) = typeset(Document("cards", "T", "", "2031-05-04", content)).files
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 6
    for place, page in enumerate(document):
        text = page.get_textpage()
        assert text.get_text_range().startswith(str(10**place))
        (at, count) = text.search("north window").get_next()
        boxes = [text.get_charbox(at + letter) for letter in range(count)]
        assert max(box[2] for box in boxes) * MM_PER_POINT < 148.0 - 31.0
        assert boxes[0][3] - boxes[0][1] > 7.0  # points of an n: not shrunk away


def test_a_plan_without_lights_says_what_to_add(tmp_path: Path) -> None:
    ready = job(write_plan(tmp_path, ""), WISHES, setup=None, progress=None)
    pdf = made(ready)
    text = text_of(pdf)
    assert len(sizes_mm(pdf)) == 1
    assert "The plan has no light yet, so there is no card." in text
    assert "[[light]]" in text
    assert_accessible(pdf, title="levels: lamp cards")


def test_a_light_nothing_reaches_says_so(tmp_path: Path) -> None:
    plan = write_plan(
        tmp_path, light("street", 'moves = ["filter"]', builtin="high-pressure sodium HP1")
    )
    text = text_of(made(job(plan, WISHES, setup=None, progress=None)))
    assert "leave as it is nothing reaches it: flag it, switch it off, or let it be" in text
    assert "not known" in text


def test_cards_look_as_they_did(demo: Job, rough: Job, keep: bool) -> None:
    assert_like_snapshot("cards-a4", made(demo), keep=keep)
    assert_like_snapshot("cards-letter", made(on_paper(demo, "letter", address="")), keep=keep)
    assert_like_snapshot("cards-rough", made(rough), keep=keep)


def test_a_card_is_quick(demo: Job) -> None:
    """Each page in under 0.3 s, of forty cards that were never set before."""
    import time

    part = demo.parts[0]
    made(demo)
    entry = part.loaded.plan.light[0]
    plan = part.loaded.plan.model_copy(
        update={"light": tuple(entry.model_copy(update={"name": f"lamp {n}"}) for n in range(40))}
    )
    lights = [replace(part.answer.lights[0], name=f"lamp {n}") for n in range(40)]
    many = replace(
        part,
        answer=replace(part.answer, lights=lights),
        loaded=replace(
            part.loaded,
            plan=plan,
            lights={f"lamp {n}": part.loaded.lights["key Fresnel"] for n in range(40)},
        ),
    )
    begin = time.perf_counter()
    pdf = made(replace(demo, parts=[many]))
    assert time.perf_counter() - begin < 0.3 * len(sizes_mm(pdf))
    assert all(text.startswith(str(n)) for n, text in enumerate(pages(pdf), 1))
    assert len(pages(pdf)) == 40


def test_a_layout_without_cards_is_a_document_still() -> None:
    content = {"plan": "p", "cards": [], "empty": "nothing"}
    (pdf,) = typeset(Document("cards", "T", "", "2031-05-04", content)).files
    assert_accessible(pdf, title="T")
    assert Image.fromarray(pictures(pdf)[0].astype(np.uint8)).size[0] > 100
