from __future__ import annotations

import pytest

from evencast.plan.place import Loc, folded, place, printable

DATA = {
    "light": [
        {"name": "window left", "aim": {"mired": 3}, "moves": ["a", "b"]},
        {"aperture": [{}]},
        {"name": "  "},
        "no table",
    ],
    "filter": [{"name": "a", "stock": [{"id": "B1"}]}],
}


@pytest.mark.parametrize(
    ("loc", "said"),
    [
        ((), "job.toml"),
        (("kit",), "job.toml, kit"),
        (("light", 0, "aim", "mired"), 'job.toml, light "window left".aim.mired'),
        (("light", 0, "moves", 1), 'job.toml, light "window left".moves[2]'),
        (("light", 1, "aperture", 0, "width_mm"), "job.toml, light[2].aperture[1].width_mm"),
        (("light", 2), "job.toml, light[3]"),
        (("light", 3, "x"), "job.toml, light[4].x"),
        (("light", 9), "job.toml, light[10]"),
        (("filter", 0, "stock", 0), 'job.toml, filter "a".stock "B1"'),
    ],
)
def test_a_place_is_named_and_counted_from_1_where_it_has_no_name(loc: Loc, said: str) -> None:
    """Names where there are names, numbers from 1 elsewhere."""
    assert place("job.toml", DATA, loc) == said


def test_what_is_printed_cannot_command_a_terminal() -> None:
    """Control characters are replaced, line breaks become spaces, long text is cut."""
    assert printable("a\x1b[31m\nb") == "a\ufffd[31m b"
    assert printable("x" * 100) == "x" * 57 + "..."


def test_names_are_compared_without_capitals_and_doubled_spaces() -> None:
    """Also where capitals are more than one letter."""
    assert folded("  Stra\u00dfe  2 ") == folded("STRASSE 2")
