"""Laws of reading and rewriting: no byte is lost, and no text is too broken to answer."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from evencast.plan.document import read_kit, read_plan
from evencast.plan.edit import Value, with_values

FORMAT_1 = Path(__file__).parent.parent / "documents" / "format-1"
SAMPLES = {path.stem: path.read_bytes().decode() for path in sorted(FORMAT_1.glob("*.toml"))}

NAMES = st.text(min_size=1, max_size=20).filter(str.strip)
SPACES = st.sampled_from(["", " ", "   ", "\t"])
REMARKS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), max_size=20)
NUMBERS = st.sampled_from(["0", "-12", "+3", "1_0", "0.50", "-0.0", "1e1", "0x1F"])
SCALARS = st.one_of(st.integers(-(2**53), 2**53), st.floats(allow_nan=False), st.booleans(), NAMES)


@st.composite
def plans(draw: st.DrawFn) -> str:
    """A sound plan in any layout: spacing, remarks, unknown keys, line ends, byte order mark."""
    ending = draw(st.sampled_from(["\n", "\r\n"]))
    names = draw(
        st.lists(
            NAMES, min_size=1, max_size=4, unique_by=lambda name: " ".join(name.casefold().split())
        )
    )
    lines = ["format = 1", 'name = "job"', "kit = 'kit.toml'", "mains_hz = 50"]
    lines += [draw(_unknown()), "[camera]", "balance = { fixed_k = 4_300 }"]
    for name in names:
        gap, before, after = draw(SPACES), draw(SPACES), draw(SPACES)
        lines += ["", f"{before}[[light]]{after}", f"{gap}name{before}={after}{_quoted(name)}"]
        lines += ['role = "fill"', f"cct_k{after}={before}5400.0  # {draw(REMARKS)}"]
        lines += [draw(_unknown()), f"aim = {{mired={draw(NUMBERS)},  duv = 0.001 }}"]
    text = ending.join(lines) + draw(st.sampled_from(["", ending, ending * 3]))
    return draw(st.sampled_from(["", "\ufeff"])) + text


@st.composite
def _unknown(draw: st.DrawFn) -> str:
    value = draw(st.sampled_from(["nan", "'''x'''", "[ 1,\n 2 ]", "2031-05-04", "{ a.b = 1 }"]))
    return f"weather-{draw(st.integers(0, 99))}-of-the-day = {value} # {draw(REMARKS)}"


def _quoted(name: str) -> str:
    return '"' + "".join(f"\\U{ord(letter):08X}" for letter in name) + '"'


@settings(max_examples=60, deadline=None)
@given(text=plans())
def test_reading_and_writing_changes_no_byte(text: str) -> None:
    """A plan that nobody changed comes back as it was, however it was laid out."""
    document, problems = read_plan(text, where="job.toml")
    assert [problem for problem in problems if problem.severity == "error"] == []
    assert document is not None
    assert document.text() == text


@settings(max_examples=60, deadline=None)
@given(text=plans(), mired=st.floats(-300, 300), number=st.integers(0, 3))
def test_changing_one_value_keeps_every_other_line(text: str, mired: float, number: int) -> None:
    """One aim set anew: its line changes there alone, every other line keeps its bytes."""
    document, _ = read_plan(text, where="job.toml")
    assert document is not None
    number %= len(document.model.light)
    changed = document.with_values([(("light", number, "aim", "mired"), mired)])
    before, after = text.split("\n"), changed.split("\n")
    assert len(before) == len(after)
    differing = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
    assert len(differing) <= 1
    for old, new in differing:
        assert old.startswith("aim = {mired=")
        assert new.partition(",")[2] == old.partition(",")[2]
    again, _ = read_plan(changed, where="job.toml")
    assert again is not None
    assert again.model.light[number].aim.mired == mired


@settings(max_examples=60, deadline=None)
@given(text=plans(), value=SCALARS)
def test_a_new_key_takes_one_new_line(text: str, value: Value) -> None:
    """A key that was not there is added without touching any line that was."""
    changed = with_values(text, [(("camera", "note"), value)], where="job.toml")
    ending = "\r\n" if "\r\n" in text else "\n"
    before, after = text.split(ending), changed.split(ending)
    added = [line for line in after if line.startswith("note = ")]
    assert len(added) == 1
    after.remove(added[0])
    assert after == before
    assert tomllib.loads(changed.removeprefix("\ufeff"))["camera"]["note"] == value


@pytest.mark.parametrize("name", sorted(SAMPLES))
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_a_damaged_document_is_answered_with_problems(name: str, data: st.DataObject) -> None:
    """However a document is cut and garbled, problems come back and nothing is raised."""
    garbled = data.draw(_damage(SAMPLES[name]))
    for read in (read_kit, read_plan):
        document, problems = read(garbled, where="job.toml")
        assert document is not None or any(each.severity == "error" for each in problems)
        assert all(each.message and each.remedy for each in problems)


@settings(max_examples=60, deadline=None)
@given(text=st.text(max_size=60))
@example(text="a = " + "[" * 5000)
@example(text="a = " + "9" * 5000)
@example(text="[[light]]\nname = 1e400\naim.mired = " + "9" * 400)
@example(text="[[light.aperture]]\nwidth_m = " + "9" * 400)
@example(text="light = [[], {}, [{}], {aperture = {}}]\nformat = 1\ntolerance.key.mired = [1]")
@example(text="a" * 100_000 + " = 1")
def test_any_text_at_all_is_answered_with_problems(text: str) -> None:
    """Text that never was a document gets problems too, and quickly."""
    for read in (read_kit, read_plan):
        document, problems = read(text, where="job.toml")
        assert document is None
        assert any(each.severity == "error" for each in problems)


@st.composite
def _damage(draw: st.DrawFn, text: str) -> str:
    """A few cuts, doublings, strange insertions and values put in the wrong place."""
    values = ["true", '""', "nan", "-1", "[]", "{}", "07:30:00", "[[1], 2]", "1e999", "'x'"]
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 30)))
        kind = draw(st.sampled_from(["cut", "double", "insert", "value"]))
        if kind == "cut":
            text = text[:start] + text[end:]
        elif kind == "double":
            text = text[:end] + text[start:end] + text[end:]
        elif kind == "insert":
            text = text[:start] + draw(st.text(max_size=3)) + text[start:]
        elif "= " in text[start:]:
            at = text.index("= ", start) + 2
            stop = text.find("\n", at) if "\n" in text[at:] else len(text)
            text = text[:at] + draw(st.sampled_from(values)) + text[stop:]
    return text
