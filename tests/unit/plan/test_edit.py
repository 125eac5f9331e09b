from __future__ import annotations

import pytest

from evencast.errors import EvencastError
from evencast.plan import edit
from evencast.plan.edit import Path, with_value

TEXT = """\ufeff# top\r
name = 'job'   # mine\r
odd = nan\r
light = [ { name = "a", cct_k = 5_400 } ]\r
\r
[camera]\r
  balance = { fixed_k = 0x10CC }   # hexadecimal\r
\r
[[setup]]\r
name = "night"\r
  [[setup.light]]\r
  name = "a"\r
  note = '''two\r
lines'''"""


@pytest.mark.parametrize(
    ("path", "old", "new"),
    [
        (("name",), "'job'", '"new"'),
        (("light", "a", "cct_k"), "5_400", '"new"'),
        (("light", 0, "cct_k"), "5_400", '"new"'),
        (("camera", "balance", "fixed_k"), "0x10CC", '"new"'),
        (
            ("setup", "night", "light", "a", "name"),
            'name = "a"\r\n  note',
            'name = "new"\r\n  note',
        ),
        (("setup", "night", "light", "a", "note"), "'''two\r\nlines'''", '"new"'),
    ],
)
def test_one_value_changes_and_every_other_byte_stays(path: Path, old: str, new: str) -> None:
    """Remarks, spacing, line ends, byte order mark and the missing last line end stay."""
    assert TEXT.count(old) == 1
    assert with_value(TEXT, path, "new", where="job.toml") == TEXT.replace(old, new)


def test_a_new_key_ends_its_line_as_the_others_do() -> None:
    """It goes last in its table, before the blank line."""
    changed = with_value(TEXT, ("camera", "exposure_index"), 800, where="job.toml")
    assert changed == TEXT.replace("cimal\r\n", "cimal\r\nexposure_index = 800\r\n")


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (True, "true"),
        (2.0, "2.0"),
        (-3, "-3"),
        ('a "b"', '"a \\"b\\""'),
        (["a", "b"], '["a", "b"]'),
    ],
)
def test_values_of_every_kind_can_be_set(value: edit.Value, written: str) -> None:
    """Truth values, numbers, text and lists are written as TOML has them."""
    assert with_value("a = 0 # x\n", ("a",), value, where="j") == f"a = {written} # x\n"


@pytest.mark.parametrize(
    ("path", "where"),
    [
        (("lamp", "x"), 'job.toml, "lamp"'),
        (("light", "b", "cct_k"), 'job.toml, "light" "b"'),
        (("light", 7, "cct_k"), 'job.toml, "light" "7"'),
        (("name", "x"), 'job.toml, "name"'),
        (("light", "a", "aim", "mired"), 'job.toml, "light" "a" "aim"'),
    ],
)
def test_a_table_that_is_not_there_is_named(path: Path, where: str) -> None:
    """Nothing is invented on the way to a value."""
    with pytest.raises(EvencastError) as raised:
        with_value(TEXT, path, 1, where="job.toml")
    assert raised.value.where == where
    assert raised.value.what == "there is no such table"
    assert raised.value.remedy == "Name a table that the document has."


def test_text_that_cannot_be_read_is_not_rewritten() -> None:
    """The error is that of reading it."""
    with pytest.raises(EvencastError) as raised:
        with_value("a = ", ("a",), 1, where="job.toml")
    assert raised.value.where == "job.toml, line 1, column 4"


def test_a_rewriting_that_touches_more_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should the TOML library ever disturb another value, nothing comes back."""
    monkeypatch.setattr(edit, "_rewritten", lambda *_, **__: "a = 2\nb = 3\n")
    with pytest.raises(EvencastError) as raised:
        with_value("a = 1\nb = 2\n", ("a",), 2, where="job.toml")
    assert raised.value.what == "this value cannot be changed without touching others"
    assert raised.value.remedy == "Change it by hand, in a text editor."
