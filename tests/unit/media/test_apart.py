"""Photographs decoded in a process of their own."""

from __future__ import annotations

import os
from dataclasses import replace

import pytest
from PIL import Image

from evencast.errors import EvencastError
from evencast.media.apart import LIMITS, frame_apart
from evencast.media.frames import frame_of
from tests.unit.media.test_frames import file_of, halves


def test_it_is_the_same_picture() -> None:
    content = file_of(halves())
    assert frame_apart(content, where="a.png", widest_px=100) == frame_of(
        content, where="a.png", widest_px=100
    )


@pytest.mark.parametrize("content", [b"", b"\x89PNG\r\n\x1a\n", b"<svg/>", file_of(halves())[:-20]])
def test_what_is_none_is_refused_as_ever(content: bytes) -> None:
    with pytest.raises(EvencastError) as raised:
        frame_apart(content, where="odd.png")
    with pytest.raises(EvencastError) as expected:
        frame_of(content, where="odd.png")
    assert str(raised.value) == str(expected.value)


def test_time_ends() -> None:
    with pytest.raises(EvencastError, match="more time or memory") as raised:
        frame_apart(file_of(halves()), where="slow.png", limits=replace(LIMITS, seconds=0))
    assert raised.value.where == "slow.png"


@pytest.mark.skipif(os.name == "nt", reason="there only the time is limited")
def test_memory_ends() -> None:
    """A picture of 50 million pixels in 30 kB, with room for the decoder and not for it; with the
    usual room it is read."""
    large = file_of(Image.new("RGB", (9_000, 5_500)))
    with pytest.raises(EvencastError, match="more time or memory"):
        frame_apart(large, where="a.png", limits=replace(LIMITS, bytes=300 * 1024**2))
    small = file_of(halves())
    assert frame_apart(small, where="a.png", limits=replace(LIMITS, bytes=300 * 1024**2)).width_px
    assert frame_apart(large, where="a.png").width_px == 1200
