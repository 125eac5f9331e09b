"""The letters of the pages are those of the documents, as the builder makes them."""

from __future__ import annotations

import io

import pytest
from fontTools.ttLib import TTFont

from builders import web_fonts
from builders.fonts import FONTS

BUILT = web_fonts.build()
MOST_BYTES = 30_000


@pytest.mark.parametrize("name", BUILT)
def test_packaged_letters_are_what_the_builder_makes(name: str) -> None:
    """Table by table: how the same bytes are packed differs between systems."""
    packaged = TTFont(web_fonts.STATIC / name).reader
    made = TTFont(io.BytesIO(BUILT[name])).reader
    assert {tag: packaged[tag] for tag in packaged.keys()} == {  # noqa: SIM118 - a reader is no dict
        tag: made[tag]
        for tag in made.keys()  # noqa: SIM118
    }


@pytest.mark.parametrize("name", BUILT)
def test_letters_go_to_a_phone_with_every_page(name: str) -> None:
    assert (web_fonts.STATIC / name).stat().st_size < MOST_BYTES


@pytest.mark.parametrize(
    ("name", "whole"),
    [("inter-regular.woff", "Inter-Regular.otf"), ("inter-semibold.woff", "Inter-SemiBold.otf")],
)
def test_letters_have_the_measures_of_the_whole_font(name: str, whole: str) -> None:
    """And none of those asked for is missing that the whole font has."""
    small, large = TTFont(web_fonts.STATIC / name), TTFont(FONTS / whole)
    has = large.getBestCmap()
    assert set(small.getBestCmap()) == web_fonts.CHARACTERS & set(has)
    for code, glyph in small.getBestCmap().items():
        assert small["hmtx"][glyph] == large["hmtx"][has[code]]
    assert set(map(ord, "AaÅåŁłß0½–×′“→−≤Δ")) <= set(small.getBestCmap())
