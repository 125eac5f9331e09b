from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.store.library.kinds import KINDS, Entry, entry_of

PNG = b"\x89PNG\r\n\x1a\n rest"


@pytest.mark.parametrize(
    ("name", "content", "kind"),
    [
        ("a.toml", b'format=1\nname="n"\n[[light]]\nname="key"\n', "plan"),
        ("a.toml", b'format=1\nname="n"\nkit="kit.toml"\n', "plan"),
        ("a.toml", b"format=1\n[camera]\n", "plan"),
        ("a.toml", b"format=1\n[[filter]]\n[[light]]\n", "plan"),
        ("plan.toml", b'format=1\nname="n"\n[[filter]]\nname="a"\n', "kit"),
        ("a.TOML", b"format=1\n", "kit"),
        ("a.toml", b"\xef\xbb\xbfformat=1\r\n[[filter]]\r\n", "kit"),
        ("a.toml", b"title='x'\n", "other"),
        ("a.toml", b"", "other"),
        ("a.toml", b"\xff\xfe", "other"),
        ("a.toml", b"name = \n[[light]]\n", "plan"),
        ("a.toml", b"name = \nkit = 'a'\n", "plan"),
        ("a.toml", b"name = \n  [[ filter ]]\n", "kit"),
        ("a.toml", b"name = \n# [[light]]\n", "other"),
        ("a.toml", b"a=" + b"[" * 5000, "other"),
        ("spectra/a.csv", b"wavelength_nm,power\n", "spectrum"),
        ("a.csv", b"a\x00b", "other"),
        ("a.spdx", b"<x/>", "spectrum"),
        ("a.ies", b"IESNA:LM-63-2002", "photometric"),
        ("a.LDT", b"x", "photometric"),
        ("a.gdtf", b"PK\x03\x04", "photometric"),
        ("a.gdtf", b"x", "other"),
        ("a.png", PNG, "frame"),
        ("a.png", b"<svg/>", "other"),
        ("a.jpg", b"\xff\xd8\xff\xe0", "frame"),
        ("a.jpeg", PNG, "other"),
        ("a.tif", b"II*\x00", "frame"),
        ("a.tiff", b"MM\x00*", "frame"),
        ("a.dng", b"anything", "frame"),
        ("a.svg", b"<svg/>", "other"),
        ("a", b"", "other"),
        ("toml", b"format=1", "other"),
    ],
)
def test_what_a_document_is(name: str, content: bytes, kind: str) -> None:
    assert entry_of(name, content).kind == kind


def test_what_a_document_says() -> None:
    """Title and parts by name; what is no text is passed over, what is long is cut."""
    plan = b'format=1\nname=" The\\n night "\n[[light]]\nname="key"\n[[light]]\nname=3\n[[light]]\n'
    assert entry_of("a.toml", plan) == Entry("plan", "The night", ("key",))
    kit = 'format=1\nname=7\n[[filter]]\nname="a\\u0000b"\n[[filter]]\nname="é"\n'.encode()
    assert entry_of("a.toml", kit) == Entry("kit", "", ("a b", "é"))
    assert entry_of("a.toml", b"format=1\nname='" + b"x" * 300 + b"'").title == "x" * 200
    many = b"format=1\n" + b"[[filter]]\nname='a'\n" * 1500
    assert len(entry_of("a.toml", many).holds) == 1000
    assert entry_of("a.toml", b"light=3\nformat=1") == Entry("plan")


@given(st.text(max_size=10), st.binary(max_size=200))
def test_any_bytes_are_something(name: str, content: bytes) -> None:
    for ending in ("", ".toml", ".csv", ".png", ".ies", ".gdtf"):
        assert entry_of(name + ending, content).kind in KINDS
