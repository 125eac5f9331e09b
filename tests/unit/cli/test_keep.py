"""`solve --keep` as it prints and fails."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.unit.cli.calling import ANSWERED, BAD_CALL, ERRORS_IN_DOCUMENT, KIT, PLAN, run


@pytest.fixture(autouse=True)
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan and its kit in the folder one is in."""
    monkeypatch.chdir(tmp_path)
    Path("kit.toml").write_text(KIT, "utf-8")
    Path("plan.toml").write_text(PLAN, "utf-8")


def test_the_text_ends_with_where_it_was_kept() -> None:
    """The document as it was called, and the set-up as it is written there."""
    for name in ("day", "DAY"):
        ran = run("solve", "plan.toml", "--setup", name, "--keep")
        assert ran.code == ANSWERED, ran.err
        assert ran.out.endswith("\n\nKept in plan.toml, set-up day.\n")
    (kept,) = tomllib.loads(Path("plan.toml").read_text("utf-8"))["setup"]
    assert len(kept.pop("planned_for")) == 16
    assert kept == {
        "name": "day",
        "balance_k": 4300,
        "light": [{"name": "lamp", "planned": {"filters": ["half CTB"]}}],
    }


def test_json_names_the_document_or_null() -> None:
    """`kept_in`, and the set-up that it was solved for."""
    kept = run("solve", "plan.toml", "--setup", "day", "--keep", "--json").answer
    assert (kept["kept_in"], kept["setup"]) == ("plan.toml", "day")
    before = Path("plan.toml").read_bytes()
    plain = run("solve", "plan.toml", "--setup", "day", "--json").answer
    assert plain == kept | {"kept_in": None}
    assert Path("plan.toml").read_bytes() == before


def test_keeping_needs_the_name_of_a_set_up() -> None:
    """The call is wrong, and the error says what to write."""
    for options in (("--keep",), ("--keep", "--setup", " ")):
        ran = run("solve", "plan.toml", *options, "--json")
        assert ran.code == BAD_CALL
        assert ran.error["where"] == "--keep"
        assert '--setup "afternoon" --keep' in ran.error["remedy"]
    assert Path("plan.toml").read_text("utf-8") == PLAN


def test_a_name_in_any_letters_is_written_as_it_is() -> None:
    """Quotes, brackets, line ends and letters of every script; nothing else changes."""
    name = 'a "b" [[c]] \\ # \n é 夜'
    ran = run("solve", "plan.toml", "--setup", name, "--keep", "--json")
    assert ran.code == ANSWERED, ran.out
    text = Path("plan.toml").read_text("utf-8")
    assert text.startswith(PLAN)
    assert tomllib.loads(text)["setup"][0]["name"] == name


def test_a_document_with_errors_is_not_touched() -> None:
    """All of them are told."""
    wrong = PLAN.replace('"key"', '"kee"').replace("50", "55")
    Path("plan.toml").write_text(wrong, "utf-8")
    ran = run("solve", "plan.toml", "--setup", "day", "--keep", "--json")
    assert ran.code == ERRORS_IN_DOCUMENT
    assert Path("plan.toml").read_text("utf-8") == wrong


def test_a_folder_that_may_not_be_written_to_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """In place of a traceback, and the document is as it was."""

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("evencast.store.files.written_beside", refuse)
    ran = run("solve", "plan.toml", "--setup", "day", "--keep", "--json")
    assert ran.code == BAD_CALL
    assert ran.error["what"] == "cannot be written: Permission denied"
    assert Path("plan.toml").read_text("utf-8") == PLAN
