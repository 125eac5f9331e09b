"""The library from the terminal: what is said, as text and as JSON, and how it ends."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from evencast.cli import main
from evencast.store.library import Library
from evencast.store.library.carrying import zip_of


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to be in, with a bundle beside the library."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("EVENCAST_LIBRARY", "library")
    bindery = tmp_path / "bindery"
    (bindery / "spectra").mkdir(parents=True)
    (bindery / "kit.toml").write_bytes(b"\xef\xbb\xbfformat = 1\r\n")
    (bindery / "spectra" / "a.csv").write_bytes(b"1,2")
    (bindery / ".hidden").write_bytes(b"")
    return tmp_path


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["library", *arguments])


def answer(*arguments: str, exit_code: int = 0) -> dict[str, Any]:
    ran = run(*arguments, "--json")
    assert ran.exit_code == exit_code, ran.output
    told: dict[str, Any] = json.loads(ran.output)
    return told


def test_a_bundle_goes_in_and_comes_out(folder: Path) -> None:
    """As a folder and as an archive; what was left out is told."""
    told = answer("import", "bindery")
    assert told["bundle"] == "bindery"
    assert told["made"] == ["kit.toml", "spectra/a.csv"]
    assert (told["same"], told["left_out"], told["problems"]) == (0, [".hidden"], [])
    assert answer("import", "bindery", "--by", "Ada")["same"] == 2
    assert answer("export", "BINDERY", "--to", "copy")["written_to"] == "copy"
    assert (folder / "copy/kit.toml").read_bytes() == b"\xef\xbb\xbfformat = 1\r\n"
    assert answer("export", "bindery", "--to", "b.zip")["files"] == ["kit.toml", "spectra/a.csv"]
    assert answer("import", "b.zip", "--bundle", "again")["made"] == ["kit.toml", "spectra/a.csv"]
    assert answer("import", "b.zip")["bundle"] == "b"
    assert answer("export", "b", exit_code=0)["written_to"] == "b"
    assert answer("export", "b", exit_code=2)["error"]["what"] == "is there already"


def test_a_library_does_not_take_in_itself(folder: Path) -> None:
    """Where it lies in the folder that is imported."""
    run("import", "bindery")
    told = answer("import", ".", "--bundle", "all")
    assert told["made"] == ["bindery/kit.toml", "bindery/spectra/a.csv"]
    assert told["left_out"] == ["bindery/.hidden", "library"]


def test_a_check_names_what_is_there() -> None:
    run("import", "bindery")
    told = answer("check")
    assert told["bundles"] == [{"name": "bindery", "documents": ["kit.toml", "spectra/a.csv"]}]
    assert (told["last_change"], told["revisions"], told["since_backup"]) == (3, 2, 0)
    assert len(told["backups"]) == 1
    run("import", "bindery", "--bundle", "two")
    assert answer("check")["since_backup"] == 3
    assert "3 edits since are in no backup yet" in run("check").output.replace("\n", " ")


def test_a_check_that_finds_something_ends_with_1(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every fault, and the command that mends it."""
    run("import", "bindery")
    monkeypatch.setattr(
        "evencast.store.library.checking.faults", lambda _: ["a.csv, revision 1, is not right"]
    )
    told = answer("check", exit_code=1)
    (problem,) = told["error"]["problems"] if "problems" in told["error"] else told["problems"]
    assert problem["message"] == "a.csv, revision 1, is not right"
    assert "`evencast library restore`" in problem["remedy"]


def test_an_index_that_is_wrong_is_made_anew_by_the_check(folder: Path) -> None:
    """It is told once, as a warning; the documents were right all along."""
    run("import", "bindery")
    with closing(sqlite3.connect(folder / "library" / "library.db")) as connection:
        connection.execute("UPDATE entry SET title = 'wrong' WHERE kind = 'kit'")
        connection.commit()
    (problem,) = answer("check")["problems"]
    assert problem["severity"] == "warning"
    assert problem["message"] == "kit.toml: the index does not say what the document says"
    assert problem["remedy"] == "It was made anew from the documents."
    assert answer("check")["problems"] == []


def test_a_damaged_library_is_brought_back(folder: Path) -> None:
    """What the message says to type is what helps."""
    run("import", "bindery")
    run("import", "bindery", "--bundle", "two")
    (folder / "library" / "library.db").write_bytes(b"nothing of it is left " * 1000)
    for _ in range(2):
        ran = run("check")
        assert ran.exit_code == 2
        assert "`evencast library restore` brings back library/backups/" in ran.output
        assert "3 edits made since" in ran.output
        assert "Traceback" not in ran.output
    told = answer("restore")
    assert (told["edits"], told["bundles"], told["documents"]) == (3, 2, 4)
    assert answer("check")["last_change"] == 6


def test_it_moves_to_another_laptop(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    run("import", "bindery")
    made = answer("backup", "--to", "stick")
    assert Path(made["backup"]["file"]).stat().st_size == made["bytes"]
    monkeypatch.setenv("EVENCAST_LIBRARY", "other")
    told = answer("restore", made["backup"]["file"])
    assert (told["set_aside"], told["last_change"]) == (None, 3)
    with Library.open(folder / "other") as library:
        assert sorted(library.export(library.bundle("bindery"))) == ["kit.toml", "spectra/a.csv"]


def test_a_backup_that_fails_does_not_stop_the_work(folder: Path) -> None:
    """It is a warning; the import is done."""
    run("import", "bindery")
    for path in (folder / "library/backups").iterdir():
        path.unlink()
    (folder / "library/backups").rmdir()
    (folder / "library/backups").write_text("in the way")
    told = answer("import", "bindery", "--bundle", "two")
    assert told["made"] == ["kit.toml", "spectra/a.csv"]
    assert [each["severity"] for each in told["problems"]] == ["warning"]
    assert told["problems"][0]["message"].startswith("no backup: ")


@pytest.mark.parametrize(
    ("arguments", "what"),
    [
        (["import", "nowhere"], "is no folder"),
        (["import", "bindery", "--bundle", "a/b"], "holds a /"),
        (["import", "bad.zip"], "is no archive, or one that is broken or cut short"),
        (["export", "nowhere"], "there is no bundle of that name"),
        (["restore"], "there is no backup"),
        (["restore", "bad.zip"], "cannot be trusted: it is no archive, or one that is cut short"),
        (["backup", "--to", "bad.zip"], "the disk failed: "),
    ],
)
def test_bad_calls_say_what_is_wrong(folder: Path, arguments: list[str], what: str) -> None:
    (folder / "bad.zip").write_bytes(b"PK")
    told = answer(*arguments, exit_code=2)["error"]
    assert told["what"].startswith(what)
    assert told["where"]
    assert told["remedy"]


def test_bad_names_in_an_archive_are_told_all_at_once(folder: Path) -> None:
    """And nothing is taken in; the exit code is that of errors in documents."""
    (folder / "bad.zip").write_bytes(zip_of({"../up": b"", "nul": b"", "good.csv": b""}))
    ran = run("import", "bad.zip")
    assert ran.exit_code == 1
    assert "../up" in ran.output
    assert '"nul" is reserved' in ran.output
    assert answer("check")["bundles"] == [{"name": "bad", "documents": []}]
