"""Names in a picture: made harmless, measured, broken into lines, shortened."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.handouts.charts.letters import clean, fitted, isolated, width_of


@given(name=st.text())
def test_a_cleaned_name_is_one_line_that_xml_takes(name: str) -> None:
    shown = clean(name)
    assert shown == " ".join(shown.split()) != ""
    escaped = shown.replace("&", "&amp;").replace("<", "&lt;")
    assert ET.fromstring(f"<a>{escaped}</a>").text == shown
    assert clean(shown) == shown


def test_what_would_turn_the_words_around_it_is_taken_out() -> None:
    assert clean("a\u202eb\u2067c\x07") == "abc\ufffd"
    assert clean(" \n ") == "(no name)"


def test_a_name_from_right_to_left_is_kept_to_itself() -> None:
    assert isolated("key") == "key"
    assert isolated("بيت") == "\u2068بيت\u2069"
    assert fitted(isolated("بيت"), 500.0, 12.0).lines == ("\u2068بيت\u2069",)


@given(text=st.text(min_size=1).map(clean), width=st.floats(20.0, 400.0), most=st.integers(1, 4))
def test_no_line_is_wider_than_asked_but_for_a_single_letter(
    text: str, width: float, most: int
) -> None:
    """Whatever the text, and nothing is lost without being marked as cut."""
    fit = fitted(text, width, 12.0, most_lines=most)
    assert 1 <= len(fit.lines) <= most
    for line in fit.lines:
        letters = [each for each in line if width_of(each, 12.0) > 0]
        assert width_of(line, 12.0) <= width + 1e-9 or len(letters) <= 2
    if not fit.cut:
        assert "".join(fit.lines).replace(" ", "") == text.replace(" ", "")
    else:
        assert fit.lines[-1].endswith("…")


def test_lines_break_between_words_and_a_long_word_within() -> None:
    assert fitted("north window left", 75.0, 12.0, most_lines=3).lines == ("north", "window left")
    long = fitted("x" * 40, 100.0, 12.0, most_lines=9)
    assert len(long.lines) > 1
    assert "".join(long.lines) == "x" * 40
    assert not long.cut


def test_marks_stay_with_their_letters() -> None:
    """Nothing is parted from what it is written on, nor a joined picture in its middle."""
    joined = "👩\u200d🎤"
    for width in range(10, 90, 3):
        for line in fitted("e\u0301" * 8, float(width), 12.0, most_lines=9).lines:
            assert not line.startswith("\u0301")
        for line in fitted(joined * 4, float(width), 12.0, most_lines=9).lines:
            assert not line.startswith("\u200d")


@pytest.mark.parametrize(
    ("text", "thousandths"),
    [("key Fresnel", 5431), ("0.0025 magenta", 7785), ("WWWW", 3796)],
)
def test_widths_are_those_of_the_typeface_and_a_little_more(text: str, thousandths: int) -> None:
    """Advance widths summed from the regular cut of Inter 4.0; never narrower, for a label must
    not leave its room, and at most a twentieth wider."""
    assert 1.0 <= width_of(text, 1000.0) / thousandths <= 1.05
