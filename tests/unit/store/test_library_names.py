from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.errors import EvencastError
from evencast.store.library.names import bundle_name, clash, document_name, folded


@pytest.mark.parametrize(
    "name",
    [
        "plan.toml",
        "spectra/worn half CTB.csv",
        "a/b/c/d/e/f/g/h.csv",
        "Küche.toml",
        "厨房.toml",
        "מטבח.toml",
        "💡 lamp (2).csv",
        "a'b & c, d; e=f [g] {h} ~ ! $ % ^ #.csv",
        "-.csv",
        ".hidden",
        "console.toml",
        "com10.csv",
        "common.csv",
        "x" * 100,
    ],
)
def test_names_that_every_system_can_hold(name: str) -> None:
    assert document_name(name) == name


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("", "has an empty part"),
        ("/etc/passwd", "is an absolute path"),
        ("../kit.toml", "has an empty part"),
        ("a/../kit.toml", "has an empty part"),
        ("a//b", "has an empty part"),
        ("a/", "has an empty part"),
        ("./a", "has an empty part"),
        ("C:/a.csv", "holds :"),
        ("a\\b.csv", "holds \\"),
        ('a"b?.csv', 'holds " ?'),
        ("a*b", "holds *"),
        ("a\x00b", "holds control characters"),
        ("a\nb", "holds control characters"),
        ("a\x7fb", "holds control characters"),
        ("a\ud800b", "holds control characters"),
        ("plan\u202elmot.exe", "holds control characters"),
        ("a\u2028b", "holds control characters"),
        ("CON", "is reserved"),
        ("spectra/nul.csv", "is reserved"),
        ("Aux.tar.gz", "is reserved"),
        ("com1.csv", "is reserved"),
        ("lpt¹", "is reserved"),
        ("prn .csv", "is reserved"),
        ("a.", "begins with a space or ends with"),
        ("a ", "begins with a space or ends with"),
        (" a", "begins with a space or ends with"),
        ("a /b", "begins with a space or ends with"),
        ("x" * 101, "longer than 100 characters"),
        ("字" * 81, "longer than 100 characters"),
        ("/".join(["a" * 30] * 7), "longer than 180 characters or more than 8 folders deep"),
        ("a/b/c/d/e/f/g/h/i", "more than 8 folders deep"),
    ],
)
def test_names_that_some_system_cannot_hold(name: str, what: str) -> None:
    """What is wrong is said, where, and what would do."""
    with pytest.raises(EvencastError) as raised:
        document_name(name)
    assert what in raised.value.what
    assert raised.value.where == name
    assert raised.value.remedy


def test_a_bundle_is_named_like_one_folder() -> None:
    assert bundle_name("  night bindery ") == "night bindery"
    assert bundle_name("Nacht im Café") == "Nacht im Café"
    for name in ("", "  ", ".", "..", "a/b", "a\\b", "con", "x" * 61, "a.", "a\tb"):
        with pytest.raises(EvencastError):
            bundle_name(name)


def test_accents_are_put_together() -> None:
    """A Mac takes them apart; a plan that names the file does not."""
    apart = unicodedata.normalize("NFD", "Küche.toml")
    assert apart != "Küche.toml"
    assert document_name(apart) == "Küche.toml"


@pytest.mark.parametrize(
    ("name", "other", "clashes"),
    [
        ("a.csv", "a.csv", False),
        ("a.csv", "A.csv", True),
        ("a.csv", "b.csv", False),
        ("straße", "STRASSE", True),
        ("ﬁ.csv", "FI.csv", True),
        ("a", "a/b.csv", True),
        ("a/b.csv", "a", True),
        ("A", "a/b.csv", True),
        ("a/b.csv", "a/c.csv", False),
        ("a/b.csv", "A/c.csv", True),
        ("a/b/c", "a/B/d", True),
        ("a/b/c", "a/d/C", False),
        ("ab", "a/b", False),
    ],
)
def test_names_that_cannot_lie_side_by_side(name: str, other: str, clashes: bool) -> None:
    assert clash(name, [other]) == (other if clashes else None)
    assert clash(other, [name]) == (name if clashes else None)


@given(st.text(min_size=1, max_size=30))
def test_a_name_that_is_taken_can_be_given_again(name: str) -> None:
    """What comes out is itself a name, and stays one; nothing leads up, or holds what divides."""
    try:
        kept = document_name(name)
    except EvencastError:
        return
    assert document_name(kept) == kept
    assert folded(kept) == folded(folded(kept))
    assert not kept.startswith("/")
    assert ".." not in kept.split("/")
    assert "\\" not in kept
    assert kept.encode("utf-8").decode("utf-8") == kept
