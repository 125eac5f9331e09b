from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.handouts.text import BREAK, LONGEST_WORD, every_text, has_shape, plain, printable


@pytest.mark.parametrize("character", "aÅ½⅓−×²ΩЖשع台灯ラン램프명등")
def test_letters_of_the_world_have_a_shape(character: str) -> None:
    assert has_shape(character)


@pytest.mark.parametrize("character", "🎬हก")
def test_some_have_none(character: str) -> None:
    assert not has_shape(character)


def test_what_has_no_shape_is_told_by_its_number() -> None:
    assert printable("fire 🔥 lamp 🔥") == ("fire [U+1F525] lamp [U+1F525]", ["🔥"])


def test_controls_and_overrides_are_left_out() -> None:
    assert printable("a\u202eb\x07c\ufeffd") == ("abcd", [])


def test_a_number_after_a_right_to_left_name_stays_after_it() -> None:
    """The mark after the name is strong and left to right (Unicode bidirectional algorithm,
    rule W2 and N1), so the number does not join the name."""
    assert printable("מנורה 3 m") == ("מנורה\u200e 3 m", [])
    assert printable("מנורה גדולה 3 m") == ("מנורה גדולה\u200e 3 m", [])


def test_long_words_may_break_and_short_ones_do_not() -> None:
    assert printable("x" * LONGEST_WORD)[0] == "x" * LONGEST_WORD
    long = printable("x" * 100)[0]
    assert long.replace(BREAK, "") == "x" * 100
    assert max(map(len, long.split(BREAK))) <= LONGEST_WORD // 2


def test_a_mark_stays_on_its_letter() -> None:
    word = "x" * 11 + "q\u0323" * 20
    for piece in printable(word)[0].split(BREAK)[1:]:
        assert not unicodedata.category(piece[0]).startswith("M")


@given(st.text())
def test_all_that_is_printed_has_a_shape(text: str) -> None:
    shown, missing = printable(text)
    assert all(has_shape(each) for each in shown if each != "\n")
    assert not any(has_shape(each) for each in missing)
    assert all(ord(each) < 0x530 for each in plain(text))


def test_every_text_of_a_content_is_changed_but_its_pictures() -> None:
    said = {"name": "a", "rows": [["b", 1.5], ("c", None)], "picture": "<svg>x</svg>"}
    assert every_text(said, str.upper) == {
        "name": "A",
        "rows": [["B", 1.5], ["C", None]],
        "picture": "<svg>x</svg>",
    }
