from __future__ import annotations

import pytest

from evencast.errors import EvencastError
from evencast.plan import edit
from evencast.plan.edit import Path, with_values
from evencast.plan.syntax import parsed

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
    assert with_values(TEXT, [(path, "new")], where="job.toml") == TEXT.replace(old, new)


def test_a_new_key_ends_its_line_as_the_others_do() -> None:
    """It goes last in its table, before the blank line, as far in as the key before it."""
    changed = with_values(TEXT, [(("camera", "exposure_index"), 800)], where="job.toml")
    assert changed == TEXT.replace("cimal\r\n", "cimal\r\n  exposure_index = 800\r\n")


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
    assert with_values("a = 0 # x\n", [(("a",), value)], where="j") == f"a = {written} # x\n"


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
        with_values(TEXT, [(path, 1)], where="job.toml")
    assert raised.value.where == where
    assert raised.value.what == "there is no such table"
    assert raised.value.remedy == "Name a table that the document has."


def test_text_that_cannot_be_read_is_not_rewritten() -> None:
    """The error is that of reading it."""
    with pytest.raises(EvencastError) as raised:
        with_values("a = ", [(("a",), 1)], where="job.toml")
    assert raised.value.where == "job.toml, line 1, column 4"


def test_a_rewriting_that_touches_more_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should the TOML library ever disturb another value, nothing comes back."""
    monkeypatch.setattr(edit, "_rewritten", lambda *_, **__: "a = 2\nb = 3\n")
    with pytest.raises(EvencastError) as raised:
        with_values("a = 1\nb = 2\n", [(("a",), 2)], where="job.toml")
    assert raised.value.what == "this cannot be changed without touching more"
    assert raised.value.remedy == "Change it by hand, in a text editor."


SETUPS = """\
[[setup]]
name = "night"
# about night
  [[setup.light]]
  name = "a"
  rigged = { filters = ["x"] }  # by hand
  # flag it

# --- day ---
[[setup]]
name = "day"
light = [
  { name = "a", read = { ev = 3 } },   # first
]

[[spot]]
name = "s"
# end"""


def test_an_entry_goes_behind_the_one_before_it() -> None:
    """As far in as that, before the blank line and the remark that belong to what follows."""
    entry: edit.Value = {"name": "b", "planned": {"filters": ["q"], "dial_k": 4300}}
    changed = with_values(SETUPS, [(("setup", "night", "light", 1), entry)], where="job.toml")
    added = '\n  [[setup.light]]\n  name = "b"\n  planned = { filters = ["q"], dial_k = 4300 }\n'
    assert changed == SETUPS.replace("  # flag it\n", f"  # flag it\n{added}")


def test_the_first_entry_of_a_list_stands_a_little_further_in() -> None:
    """A set-up that is new, and its lights, one after the other, at the end of the set-ups."""
    changes: edit.Changes = [
        (("setup", 2), {"name": "dusk", "balance_k": 4300.5}),
        (("setup", "dusk", "light", 0), {"name": "a", "planned": {}}),
        (("setup", "dusk", "light", 1), {"name": "b", "planned": {"off": True}}),
    ]
    changed = with_values(SETUPS, changes, where="job.toml")
    added = """
[[setup]]
name = "dusk"
balance_k = 4300.5

  [[setup.light]]
  name = "a"
  planned = {}

  [[setup.light]]
  name = "b"
  planned = { off = true }
"""
    assert changed == SETUPS.replace("]\n\n[[spot]]", f"]\n{added}\n[[spot]]")


def test_a_list_in_brackets_gets_its_entry_there() -> None:
    """On a line of its own where the others have theirs; remarks stay with theirs."""
    changed = with_values(
        SETUPS, [(("setup", "day", "light", 1), {"name": "b", "planned": {}})], where="job.toml"
    )
    assert changed == SETUPS.replace("# first\n", '# first\n  { name = "b", planned = {} },\n')


@pytest.mark.parametrize(
    ("text", "path", "value", "changed"),
    [
        (  # the first table of a kind, and no last line end
            "a = 1",
            ("setup", 0),
            {"name": "x"},
            'a = 1\n\n[[setup]]\nname = "x"\n',
        ),
        (  # within braces
            'setup = [{ name = "x" }]  # y\n',
            ("setup", "x", "light", 0),
            {"name": "a"},
            'setup = [{ name = "x", light = [{ name = "a" }] }]  # y\n',
        ),
        (  # tables of one list with others between them
            "[[setup]]\nx = 1\n[[light]]\n[[setup]]\n[[light]]\ny = 2\n",
            ("setup", 1, "x"),
            3,
            "[[setup]]\nx = 1\n[[light]]\n[[setup]]\nx = 3\n[[light]]\ny = 2\n",
        ),
        (  # a table that only a deeper heading speaks of
            "[camera.balance]\r\nfixed_k = 1 # x\r\n\r\n# z\r\n[[q]]\r\n",
            ("camera", "note"),
            "n",
            "[camera.balance]\r\nfixed_k = 1 # x\r\n\r\n[camera]\r\n"
            'note = "n"\r\n\r\n# z\r\n[[q]]\r\n',
        ),
        (  # below a heading of its own: key by key
            "[setup.planned]\nodd = 0x10 # a\noff = true\n# b\n[x]\n",
            ("setup", "planned"),
            {"odd": 16, "dial_k": 4300},
            "[setup.planned]\nodd = 0x10 # a\ndial_k = 4300\n# b\n[x]\n",
        ),
        ("a.b = 1\na.c = 2\n", ("a",), {"b": 1}, "a = { b = 1 }\n"),
        ("[a]\n  b = 1 # x\nc = 2\n", ("a", "b"), None, "[a]\nc = 2\n"),
        ("a = 1 # x\n", ("b",), None, "a = 1 # x\n"),
        ("a = 0x10 # x\n", ("a",), 16, "a = 0x10 # x\n"),
        ("[a]", ("a", "b"), 1, "[a]\nb = 1\n"),
        ('"x y" = """\n[[no]]\n"""\n', ("z",), 1, '"x y" = """\n[[no]]\n"""\nz = 1\n'),
        (
            "[[setup.'x y']]\n",
            ("setup", "x y", 1),
            {"e e": [1.5]},
            '[[setup.\'x y\']]\n\n[[setup."x y"]]\n"e e" = [1.5]\n',
        ),
    ],
)
def test_whatever_the_layout_only_the_change_is_seen(
    text: str, path: Path, value: edit.Value | None, changed: str
) -> None:
    """Headings in any order, tables in braces, dotted keys, missing line ends, old values."""
    assert with_values(text, [(path, value)], where="job.toml") == changed


def test_no_entry_is_added_that_would_not_be_the_next() -> None:
    """The number behind the last is the one that adds."""
    text = "[camera]\na = 1\n[[light]]\nb = 1\n"
    with pytest.raises(EvencastError):
        with_values(text, [(("light", 2), {"x": 1})], where="job.toml")


ENTRIES = """\
a = 1

# lamps

# the first
[[l]]
name = "x"   # its name
[[l.p]]
w = 1
[[l.p]]
w = 2
# the second
[[l]]
name = "y"
[[l.p]]
w = 3

# last

[q.r]
z = 0.50
"""


@pytest.mark.parametrize(
    ("path", "gone"),
    [
        (
            ("l", "x"),
            '\n# the first\n[[l]]\nname = "x"   # its name\n[[l.p]]\nw = 1\n[[l.p]]\nw = 2\n',
        ),
        (("l", 0, "p", 0), "[[l.p]]\nw = 1\n"),
        (("l", 0, "p"), "[[l.p]]\nw = 1\n[[l.p]]\nw = 2\n"),
        (("l", "y"), '# the second\n[[l]]\nname = "y"\n[[l.p]]\nw = 3\n'),
        (("l", "y", "p", 0), "[[l.p]]\nw = 3\n"),
        (("q",), "\n[q.r]\nz = 0.50\n"),
        (("q", "r"), "\n[q.r]\nz = 0.50\n"),
    ],
)
def test_what_has_headings_goes_with_them(path: Path, gone: str) -> None:
    """With the remark right above and a blank line; every other byte stays."""
    assert ENTRIES.count(gone) == 1
    for text, cut in ((ENTRIES, gone), (ENTRIES.replace("\n", "\r\n"), gone.replace("\n", "\r\n"))):
        assert with_values(text, [(path, None)], where="job.toml") == text.replace(cut, "")


@pytest.mark.parametrize(
    ("braces", "key", "left"),
    [
        ("{ m = -10, s = -1 }", "s", "{ m = -10 }"),
        ("{ m = -10, s = -1, t = 3 }", "m", "{ s = -1, t = 3 }"),
        ("{ m = -10, s = -1, t = 3 }", "s", "{ m = -10, t = 3 }"),
        ("{m = -10, t = 3}", "t", "{m = -10}"),
        ("{m = -10,t = 3}", "m", "{t = 3}"),
        ("{ m = -10 }", "m", "{}"),
    ],
)
def test_a_key_leaves_no_gap_in_braces(braces: str, key: str, left: str) -> None:
    """The others stand as if it had never been there."""
    changed = with_values(f"a = {braces}  # x\n", [(("a", key), None)], where="job.toml")
    assert changed == f"a = {left}  # x\n"


def test_a_list_with_headings_becomes_one_in_brackets() -> None:
    """Where the whole of it is set anew."""
    changed = with_values(ENTRIES, [(("l", "x", "p"), [{"w": 5}])], where="job.toml")
    old = 'name = "x"   # its name\n[[l.p]]\nw = 1\n[[l.p]]\nw = 2\n'
    assert changed == ENTRIES.replace(old, 'name = "x"   # its name\np = [{ w = 5 }]\n')


def test_a_number_keeps_the_digits_it_was_written_with() -> None:
    """They say how it was rounded."""
    value = parsed(ENTRIES, where="job.toml")
    assert isinstance(value, dict)
    changed = with_values("b = 1\n", [(("r",), value["q"]["r"])], where="job.toml")
    assert changed == "b = 1\nr = { z = 0.50 }\n"
