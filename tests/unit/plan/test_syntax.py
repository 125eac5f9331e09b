from __future__ import annotations

import pytest

from evencast.errors import Problem
from evencast.plan.digits import Written
from evencast.plan.syntax import parsed, split_mark


@pytest.mark.parametrize(
    ("text", "place", "message"),
    [
        ("a", "line 1, column 2", 'a key without "=": a'),
        ("x = 1\r\na", "line 2, column 2", 'a key without "=": a'),
        ("\n\na = b\n", "line 3, column 5", "a value that is neither text, number nor list: a = b"),
        ("a = 05", "line 1, column 6", "something after the value: a = 05"),
        ("a = 1 2", "line 1, column 7", "something after the value: a = 1 2"),
        ("= 1", "line 1, column 1", "neither a key, a heading nor a remark: = 1"),
        ("a = [1", "line 1, column 7", "a list that is not closed: a = [1"),
        ("[a", "line 1, column 3", "a heading without its closing bracket: [a"),
        ("a = 2031-02-30", "line 1, column 5", "no such date or time: a = 2031-02-30"),
        ("a = 'x\x01'", "line 1, column 7", "a character that may not stand here: a = 'x\ufffd'"),
        ("a = {}\na.b = 1\n", "line 2, column 8", "a table written in { } is added to: a.b = 1"),
        ("a = {b = 1, b = 2}", "line 1, column 18", "a key is written twice: a = {b = 1, b = 2}"),
        ("[a.b]\n[a]\nb.c = 2", "line 3, column 8", "a table is written in two places: b.c = 2"),
        ('a = "\\u12"', "line 1, column 8", 'a backslash that means nothing: a = "\\u12"'),
        ('a = """\nx', "line 2, column 2", "text without its closing quote: x"),
    ],
)
def test_what_is_not_toml_is_said_in_plain_words(text: str, place: str, message: str) -> None:
    """Line, column, what is wrong and the line itself; a remedy always follows."""
    problem = parsed(text, where="job.toml")
    assert isinstance(problem, Problem)
    assert (problem.severity, problem.where) == ("error", f"job.toml, {place}")
    assert problem.message == message
    assert problem.remedy.endswith(".")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a = " + "[" * 5000, "lists or tables are nested too deep to be read"),
        ("a = " + "9" * 5000, "a number is thousands of digits long"),
    ],
)
def test_what_the_parser_chokes_on_is_a_problem_too(text: str, message: str) -> None:
    """Neither deep nesting nor endless numbers raise anything."""
    problem = parsed(text, where="job.toml")
    assert isinstance(problem, Problem)
    assert (problem.where, problem.message) == ("job.toml", message)


def test_numbers_keep_their_digits() -> None:
    """A number with a decimal point remembers how it was written, final zeros included."""
    data = parsed("a = 0.310\nb = [1, 2.50]", where="job.toml")
    assert isinstance(data, dict)
    assert isinstance(data["a"], Written)
    assert (data["a"], data["a"].text, data["b"][1].text) == (0.31, "0.310", "2.50")


def test_a_byte_order_mark_is_no_part_of_the_text() -> None:
    """It is set aside for reading and handed back for writing."""
    assert split_mark("\ufeffa = 1") == ("\ufeff", "a = 1")
    assert split_mark("a = 1") == ("", "a = 1")
    assert parsed("\ufeffa = 1", where="job.toml") == {"a": 1}
