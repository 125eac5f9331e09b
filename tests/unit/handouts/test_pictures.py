from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from evencast.camera import patches
from evencast.camera.patches import Patch
from evencast.handouts.charts.letters import width_of
from evencast.handouts.pictures import (
    COMPUTED,
    FACES,
    MARGIN,
    WIDTH,
    Pair,
    described,
    faces_svg,
    pictures_svg,
)
from evencast.handouts.typeset import png_of

SVG = "{http://www.w3.org/2000/svg}"
LONG = "a very long name of a lamp that nobody would ever write by hand but somebody will " * 4
STRANGE = 'مصباح <b>&"灯光滤镜</b> 🎬\u202e\x07'


def pair_svg(each: Pair) -> str:
    """One pair alone."""
    return pictures_svg([each])


def side(red: int, *, limited: bool = False) -> list[Patch]:
    """Every patch, in a colour of its own."""
    return [
        Patch(name, f"#{red:02x}{place * 9:02x}33", limited and place % 5 == 0)
        for place, name in enumerate(patches.names())
    ]


def pair(*, balance: str = "3200 K", words: tuple[str, ...] = (), limited: bool = False) -> Pair:
    return Pair(balance, side(200), side(90, limited=limited), words, words)


def fills(svg: str) -> set[str]:
    return set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]{6})"', svg))


def texts(svg: str) -> list[str]:
    return ["".join(each.itertext()) for each in ET.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("ground", ["paper", "screen"])
def test_only_patches_have_colour(ground: str) -> None:
    svg = pictures_svg([pair(limited=True)], heading="a lamp", ground=ground)  # type: ignore[arg-type]
    data = {each.hex for each in (*side(200), *side(90))}
    assert data <= fills(svg)
    for grey in fills(svg) - data:
        assert grey[1:3] == grey[3:5] == grey[5:7], grey


def test_it_is_plain_svg_for_print_and_for_a_strict_page() -> None:
    svg = pictures_svg([pair(limited=True)], heading="a lamp")
    root = ET.fromstring(svg)
    assert root.get("role") == "img"
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert 'font-family="Inter' in svg
    for forbidden in ("style", "script", "class=", "id=", "href", "<image", "foreignObject"):
        assert forbidden not in svg, forbidden


def test_same_picture_same_bytes() -> None:
    assert pictures_svg([pair()], heading="x") == pictures_svg([pair()], heading="x")


def test_bare_left_and_filtered_right() -> None:
    """The first three patches of each side, large; the chart below, bare over filtered."""
    root = ET.fromstring(pair_svg(pair()))
    at = {
        each.get("fill"): (float(each.get("x", "0")), float(each.get("y", "0")))
        for each in root.iter(f"{SVG}rect")
    }
    for bare, filtered in zip(side(200)[:FACES], side(90)[:FACES], strict=True):
        assert at[bare.hex][0] < WIDTH / 2 < at[filtered.hex][0]
        assert at[bare.hex][1] == at[filtered.hex][1]
    for bare, filtered in zip(side(200)[FACES:], side(90)[FACES:], strict=True):
        assert at[bare.hex][0] == at[filtered.hex][0]
        assert at[bare.hex][1] < at[filtered.hex][1]


def test_what_stands_in_it() -> None:
    said = texts(
        pictures_svg([pair(words=("12 mired warm",))], heading="A lamp", remarks=["Note."])
    )
    for words in ("A lamp", "Note.", "Balanced at 3200 K", "bare", "filtered", "12 mired warm"):
        assert words in said
    assert said.count("grey") == 2
    assert COMPUTED in said


def test_without_sheets_or_chart_there_is_nothing_in_their_place() -> None:
    bare = pair_svg(Pair("3200 K", side(200), []))
    assert "filtered" not in bare
    faces = pair_svg(Pair("3200 K", side(200)[:FACES], side(90)[:FACES]))
    assert "chart" not in faces
    assert COMPUTED in faces
    root = ET.fromstring(faces)
    assert float(root.get("height", "0")) < float(
        ET.fromstring(pair_svg(pair())).get("height", "0")
    )


def test_a_limited_patch_has_a_mark_without_colour_and_words_for_it() -> None:
    plain, marked = pair_svg(pair()), pair_svg(pair(limited=True))
    assert "eyond what" not in plain
    count = sum(each.limited for each in side(90, limited=True))
    assert marked.count('stroke="#ffffff"') == count + 1  # and the one beside its explanation
    assert "Corner cut: beyond what this display shows" in marked
    assert "Beyond what the display shows: grey," in described([pair(limited=True)])


@pytest.mark.parametrize("name", [LONG, STRANGE, "", "x" * 400, "灯" * 200])
def test_any_name_stays_in_the_picture(name: str) -> None:
    """Nothing runs over the right edge by the widths of the typeface; the SVG stays whole."""
    every = [pair(balance=name, words=(name, name)), pair(words=(name,))]
    svg = pictures_svg(every, heading=name, remarks=[name])
    root = ET.fromstring(svg)
    height = float(root.get("height", "0"))
    for each in root.iter(f"{SVG}text"):
        shown = "".join(piece for piece in [each.text or "", *(child.tail or "" for child in each)])
        size = float(each.get("font-size", "13"))
        wide = width_of(shown, size, bold=each.get("font-weight") is not None)
        x, y = float(each.get("x", "0")), float(each.get("y", "0"))
        left = x - wide / 2 if each.get("text-anchor") == "middle" else x
        assert MARGIN - 1.0 <= left
        assert left + wide <= WIDTH - MARGIN + 1.0, shown
        assert size <= y <= height
    assert "\x07" not in svg
    assert "\u202e" not in svg


def test_a_colour_that_is_none_is_refused() -> None:
    broken = [Patch("grey", "red;x", False), *side(1)[1:]]
    with pytest.raises(ValueError, match="no colour"):
        pair_svg(Pair("3200 K", broken, []))


def test_it_is_described_in_words() -> None:
    told = described([pair(words=("12 mired warm",))])
    assert "Balanced at 3200 K, bare: grey #c80033, light skin #c80933" in told
    assert "12 mired warm." in told
    assert "from dark skin to black 2, bare over filtered." in told


def test_it_becomes_a_png_in_packaged_fonts() -> None:
    png = png_of(pictures_svg([pair(limited=True)], heading=STRANGE))
    assert png.startswith(b"\x89PNG")
    assert int.from_bytes(png[16:20], "big") == round(WIDTH * 1.5)


def test_small_faces_are_three_patches_and_no_words() -> None:
    """They stand in a table that says what they are."""
    root = ET.fromstring(faces_svg(side(3)))
    fills = [each.get("fill") for each in root.iter(f"{SVG}rect")]
    assert [patch.hex for patch in side(3)[:3]] == fills[-3:]
    assert not list(root.iter(f"{SVG}text"))
    assert "Grey and two skins" in faces_svg(side(3))
