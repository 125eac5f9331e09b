"""The comparison sheet: before and after at two balances, words first, and the author's frames."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2
import pytest
from PIL import Image

from evencast.actions.picture import picture
from evencast.actions.resolve import light as light_of
from evencast.filters import generic
from evencast.quantities import say_stops
from tests.kits import framed_kit, kit_text, odd_kit, plain_kit, write_kit
from tests.pages.reading import assert_accessible, assert_like_snapshot, sizes_mm, text_of
from tests.pages.test_reference import card, written

COMPARISON = ("--as", "comparison")


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    return write_kit(tmp_path, plain_kit())


@pytest.fixture
def framed(tmp_path: Path) -> Path:
    return framed_kit(tmp_path)


def test_words_come_before_pictures_and_numbers_after(plain: Path) -> None:
    rows = card(plain, *COMPARISON)["rows"]
    text = text_of(written(plain, "comparison.pdf"))
    at = 0
    for row in rows:
        purpose = f"{row['purpose'][0].upper()}{row['purpose'][1:]}."
        looks = row["pictures"][0]
        places = [
            text.index(f"{row['name']} {purpose}", at),
            text.index(" ".join([*row["use"], *row["limits"]]), at),
            text.index("Camera at 3200 K", at),
            text.index("Camera at 5600 K", at),
            text.index(f"Lamp {row['light']}", at),
        ]
        assert places == sorted(places), row["name"]
        assert f"Bare {looks['bare_looks']}; through the sheet {looks['filtered_looks']}." in text
        at = places[-1] + 1
        numbers = text[at : at + 400]
        if not row["loss_range_stops"]:
            assert f"Loss {say_stops(row['loss_stops'])}, {row['loss_stops']:.2f}" in numbers
        for caution in row["cautions"]:
            assert caution in text[at : at + 900]
    assert text.count("bare, computed") == text.count("through the sheet, computed") == 18


def test_its_pictures_are_those_of_look_light(plain: Path) -> None:
    """Every patch, bare and filtered, held and compensated, as the pictures of one light have it;
    and the colours that are drawn are on the page."""
    rows = {row["name"]: row for row in card(plain, *COMPARISON)["rows"]}
    for name in ("half CTB", "quarter minus green", "ND 0.6", "deep green"):
        row = rows[name]
        for shown in row["pictures"]:
            for exposure, key in (("held", "filtered"), ("compensated", "compensated")):
                alone = picture(
                    light_of(row["light"]),
                    [generic(name)],
                    balance_k=shown["balance_k"],
                    exposure=exposure,  # type: ignore[arg-type]
                )
                assert [each.hex for each in alone.bare] == [each["hex"] for each in shown["bare"]]
                assert [(each.hex, each.limited) for each in alone.filtered] == [
                    (each["hex"], each["limited"]) for each in shown[key]
                ]
                assert shown["residual_mired"] == pytest.approx(alone.residual_mired, abs=1e-3)
                assert shown["bare_residual_mired"] == pytest.approx(
                    alone.bare_residual_mired, abs=1e-3
                )
    first = pypdfium2.PdfDocument(written(plain, "comparison.pdf"))[0].render(scale=2).to_pil()
    seen = {f"#{r:02x}{g:02x}{b:02x}" for _, (r, g, b) in first.getcolors(1 << 24)}
    for shown in rows["half CTB"]["pictures"]:
        for side in ("bare", "filtered"):
            assert {each["hex"] for each in shown[side][:3]} <= seen


def test_two_or_three_examples_to_a_page(plain: Path) -> None:
    """Large pictures, few to a page: no page of many small colours."""
    card(plain, *COMPARISON)
    document = pypdfium2.PdfDocument(written(plain, "comparison.pdf"))
    counts = [page.get_textpage().get_text_range().count("Camera at 3200 K") for page in document]
    assert sum(counts) == 9
    assert max(counts) <= 3
    assert counts[:-1] == [2] * (len(counts) - 1)


@pytest.mark.parametrize("form", ["png", "svg"])
def test_it_comes_as_pictures_too(plain: Path, form: str) -> None:
    answer = card(plain, *COMPARISON, "--form", form, "--only", "half CTB")
    assert [Path(each["file"]).name for each in answer["files"]] == [f"comparison.{form}"]
    content = written(plain, f"comparison.{form}")
    if form == "png":
        assert Image.open(io.BytesIO(content)).size == (1191, 1684)
    else:
        assert content.startswith(b"<svg")
    answer = card(plain, *COMPARISON, "--form", f"pdf,{form}")
    pages = len(pypdfium2.PdfDocument(written(plain, "comparison.pdf")))
    assert [Path(each["file"]).name for each in answer["files"]] == [
        "comparison.pdf",
        *(f"comparison-{number}.{form}" for number in range(1, pages + 1)),
    ]


def test_a_cameras_sight_is_named(plain: Path) -> None:
    eye = card(plain, *COMPARISON, "--only", "half CTB")["rows"][0]
    seen = card(plain, *COMPARISON, "--only", "half CTB", "--camera", "camera A", "--replace")
    assert seen["camera"] == "camera A"
    assert "as camera A sees them" in text_of(written(plain, "comparison.pdf"))
    assert seen["rows"][0]["pictures"][1]["bare"] != eye["pictures"][1]["bare"]
    assert seen["rows"][0]["loss_stops"] == eye["loss_stops"]


def test_other_balances(plain: Path) -> None:
    answer = card(plain, *COMPARISON, "--balances", "4300K, 6500K", "--only", "half CTO")
    assert answer["balances_k"] == [4300.0, 6500.0]
    text = text_of(written(plain, "comparison.pdf"))
    assert "Camera at 4300 K" in text
    assert "Camera at 6500 K" in text
    assert "3200 K use" not in text


def test_frames_of_the_author_stand_beside_what_is_computed(framed: Path) -> None:
    answer = card(framed, *COMPARISON)
    shown = answer["rows"][0]["pictures"]
    assert [[each["state"] for each in picture["frames"]] for picture in shown] == [
        ["bare", "filtered"],
        ["bare", "filtered"],
    ]
    text = text_of(written(framed, "comparison.pdf"))
    for balance_k in (3200, 5600):
        label = (
            f"Photograph by Ada Moss, 2031-05-02, camera at {balance_k} K, under the 650 W Fresnel"
        )
        assert text.count(label) == 2
    assert text.count("bare, computed") == 4


def test_what_is_wrong_with_a_frame_is_told_and_the_rest_is_printed(framed: Path) -> None:
    """A missing file, one cut short, one that is no picture, one of another balance: all told."""
    answer = card(framed, *COMPARISON)
    told = {each["where"]: each["message"] for each in answer["problems"]}
    base = 'kit.toml, filter "full CTB".evidence'
    assert list(told.values()) == [
        "the frame is not shown: there is no such file",
        "the frame is not shown: it is cut short or broken",
        "the frame is not shown: it is no PNG, JPEG or TIFF",
        "the frame was taken at 4300 K and is not shown: the pictures are at 3200 K and 5600 K",
    ]
    assert [where.startswith(base) for where in told] == [True] * 4
    assert {each["severity"] for each in answer["problems"]} == {"warning"}
    text = text_of(written(framed, "comparison.pdf"))
    assert "no photograph without the sheet" in text
    assert "Photograph by Ada Moss, no date, camera at 5600 K" in text


def test_a_frame_is_never_larger_than_it_was_photographed(framed: Path) -> None:
    """A frame of 120 x 90 dots is at most 120/96 of an inch wide, and as wide to its height."""
    card(framed, *COMPARISON, "--only", "full CTB")
    page = pypdfium2.PdfDocument(written(framed, "comparison.pdf"))[0]
    images = [each for each in page.get_objects(max_depth=8) if each.type == 3]
    assert len(images) == 1
    with pikepdf.open(io.BytesIO(written(framed, "comparison.pdf"))) as opened:
        (dots,) = {
            (int(each.Width), int(each.Height))
            for each in opened.objects
            if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Image"
        }
    assert dots == (120, 90)
    seen = np.asarray(page.render(scale=2).to_pil().convert("RGB"), dtype=int)
    frame = np.abs(seen - (150, 110, 70)).max(axis=2) <= 4
    columns, rows = np.flatnonzero(frame.any(axis=0)), np.flatnonzero(frame.any(axis=1))
    half_width, height = np.ptp(columns) + 1, np.ptp(rows) + 1
    assert half_width == pytest.approx(60 / 96 * 144, abs=2)
    assert height == pytest.approx(90 / 96 * 144, abs=3)


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_it_is_accessible_and_every_picture_is_described(
    framed: Path, paper: str, size: tuple[float, float]
) -> None:
    card(framed, *COMPARISON, "--paper", paper)
    pdf = written(framed, "comparison.pdf")
    assert_accessible(pdf, title="Before and after: the van")
    assert set(sizes_mm(pdf)) == {size}
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        said = [
            str(each.Alt)
            for each in opened.objects
            if isinstance(each, pikepdf.Dictionary) and each.get("/Alt") is not None
        ]
    computed = [each for each in said if each.startswith("Computed: grey card, light and dark")]
    photographs = [each for each in said if each.startswith("Photograph of the light")]
    assert len(computed) == 8
    assert len(photographs) == 5
    assert "Photograph of the light through half CTB, camera at 5600 K" in photographs


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_it_looks_as_it_did(framed: Path, paper: str, keep: bool) -> None:
    card(framed, *COMPARISON, "--paper", paper)
    pdf = written(framed, "comparison.pdf")
    assert_like_snapshot(f"comparison-frames-{paper}", pdf, keep=keep)


def test_it_looks_as_it_did_without_frames(plain: Path, keep: bool) -> None:
    card(plain, *COMPARISON)
    assert_like_snapshot("comparison-a4", written(plain, "comparison.pdf"), keep=keep)


def test_an_empty_and_an_odd_kit(tmp_path: Path) -> None:
    kit = write_kit(tmp_path, kit_text())
    card(kit, *COMPARISON)
    assert "The kit holds no filter to show." in text_of(written(kit, "comparison.pdf"))
    kit = write_kit(tmp_path, odd_kit())
    card(kit, *COMPARISON, "--replace")
    assert "n" * 120 in text_of(written(kit, "comparison.pdf")).replace(" ", "")
