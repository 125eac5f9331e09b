"""Whatever a person's text holds, it is read rightly or refused in words, and soon."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest

from evencast.errors import DocumentErrors, EvencastError
from tests.laws.fuzz.mutator import spoiled
from tests.laws.fuzz.readers import READERS

FEW = 150


def run(name: str, count: int) -> dict[str, int]:
    """How many of so many spoiled texts were read and refused; anything else fails the test."""
    reader = READERS[name]
    counts = {"read": 0, "refused": 0}
    for case in range(count):
        text = spoiled(reader.samples, reader.tokens, f"{name} {case}")
        started, faults = time.process_time(), []
        try:
            outcome = "refused" if reader.read(text) is None else "read"
        except EvencastError as error:
            outcome, faults = "refused", list(faults_of(error))
        except Exception as error:
            error.add_note(f"{name}, case {case}: {text!r}")
            raise
        assert faults == [], (name, case, text)
        assert time.process_time() - started < reader.longest_s, (name, case, text)
        counts[outcome] += 1
    return counts


def faults_of(error: EvencastError) -> Iterator[str]:
    """What is missing from an error."""
    pieces = [error.what, error.where, error.remedy]
    for problem in error.problems if isinstance(error, DocumentErrors) else ():
        pieces += [problem.where, problem.message, problem.remedy]
    for piece in pieces:
        if not piece.strip():
            yield "an empty part"


@pytest.mark.parametrize("name", READERS)
def test_a_spoiled_text_is_read_rightly_or_refused(name: str) -> None:
    """A few of each; some are read and some refused, else the mutator tries nothing."""
    counts = run(name, FEW)
    assert counts["read"] > 0
    assert counts["refused"] > 0


@pytest.mark.long
@pytest.mark.parametrize("name", READERS)
def test_spoiled_texts_are_read_rightly_or_refused_at_length(name: str) -> None:
    """The full count of each reader; one text in a hundred at least is still read."""
    counts = run(name, READERS[name].many)
    assert counts["read"] > READERS[name].many / 100


@pytest.mark.parametrize("name", READERS)
def test_every_sample_is_sound(name: str) -> None:
    """What is spoiled would be read as it stands, but for a file of the other quantity."""
    read = 0
    for sample in READERS[name].samples:
        try:
            READERS[name].read(sample)
            read += 1
        except EvencastError as error:
            assert "belong to a" in error.what, sample  # noqa: PT017 - the rest must be read
    assert read > 0
