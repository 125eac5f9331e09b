"""The database cut short, overwritten, lost, put back to an older state, or from elsewhere."""

from __future__ import annotations

import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from evencast.errors import EvencastError
from evencast.store.library import Library
from evencast.store.library.database import Database
from evencast.store.library.edits import Edits
from evencast.store.library.place import place_of
from tests.libraries import NOON, SetClock
from tests.postgresql import Server

Contents = dict[str, list[bytes]]
Spoil = Callable[[Path], None]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "library"


@pytest.fixture
def full(folder: Path) -> Contents:
    """What a library holds that has two backups, and edits after either; it is closed."""
    clock = SetClock()
    with Library.open(folder, clock=clock) as library:
        return work(library, clock)


def work(library: Library, clock: SetClock) -> Contents:
    """Some days with a plan and a frame."""
    draws = random.Random(3)
    bundle = library.new_bundle("bindery")
    plan = library.add(bundle, "plan.toml", b"plan 0", by="Ada")
    frame = library.add(bundle, "frames/a.dng", draws.randbytes(60_000), by="Ada")
    for number in range(1, 25):
        library.save(plan, b"plan %d\r\n" % number, based_on=number, by="Ada")
        if number in (8, 16):
            clock.forward(days=1)
            library.backup()
    library.remove(frame, based_on=1, by="Ben")
    return everything(library)


def everything(library: Library) -> Contents:
    """Every revision of every document."""
    found: Contents = {}
    for bundle in library.bundles():
        for each in (*library.documents(bundle), *library.removed(bundle)):
            found[f"{bundle.name}/{each.name}"] = [
                b"" if record.removed else library.read(each, record.number).content
                for record in library.history(each)
            ]
    return found


def cut(to: float) -> Spoil:
    """Cut to a part of its length."""

    def spoil(database: Path) -> None:
        content = database.read_bytes()
        database.write_bytes(content[: int(len(content) * to)])

    return spoil


def overwrite(begin: int, length: int) -> Spoil:
    """Overwritten with noise from a byte on."""

    def spoil(database: Path) -> None:
        with database.open("r+b") as file:
            file.seek(begin)
            file.write(random.Random(begin).randbytes(length))

    return spoil


def text(database: Path) -> None:
    database.write_text("not a database at all\n" * 400)


def lost_tables(database: Path) -> None:
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("DROP TABLE session")


def lost_version(database: Path) -> None:
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("DROP TABLE alembic_version")


SPOILT = {
    "emptied": cut(0.0),
    "cut to its head": cut(0.02),
    "cut in the middle": cut(0.5),
    "cut at the end": cut(0.97),
    "head overwritten": overwrite(0, 100),
    "pages overwritten": overwrite(4096, 40_000),
    "text": text,
    "a table lost": lost_tables,
    "its version lost": lost_version,
}


@pytest.mark.parametrize("spoil", SPOILT.values(), ids=SPOILT)
def test_a_damaged_file_is_set_aside_and_all_comes_back(
    folder: Path, full: Contents, spoil: Spoil
) -> None:
    """Opening says what is wrong, where the file is now, which backup is good and what to type;
    it goes on saying so until that is done, and then every edit is there."""
    spoil(folder / "library.db")
    spoilt = (folder / "library.db").read_bytes()
    clock = SetClock(NOON.replace(day=20))
    with pytest.raises(EvencastError) as raised:
        Library.open(folder, clock=clock)
    aside = folder / "set-aside" / "2026-03-20T120000Z"
    backup = folder / "backups" / "evencast-2026-03-09T120000Z-000000019.zip"
    assert raised.value.what.startswith("library.db is damaged (")
    assert f"it was set aside in {aside}, nothing was deleted" in raised.value.what
    assert raised.value.where == str(folder)
    assert raised.value.remedy == (
        f"`evencast library restore` brings back {backup} of 2026-03-09 12:00 UTC and 9 edits "
        "made since."
    )
    assert (aside / "library.db").read_bytes() == spoilt
    for _ in range(2):
        with pytest.raises(EvencastError) as again:
            Library.open(folder, clock=clock)
        assert str(backup) in again.value.remedy
    restored = Library.restore(folder, at=clock.forward(hours=1))
    assert (restored.backup, restored.edits, restored.last_change) == (backup, 9, 28)
    with Library.open(folder, clock=clock) as library:
        assert everything(library) == full
        assert library.check().faults == ()
    assert (aside / "library.db").read_bytes() == spoilt


@pytest.mark.parametrize("seed", range(12))
def test_noise_anywhere_in_the_file_is_noticed_or_harmless(
    folder: Path, full: Contents, seed: int
) -> None:
    """Where opening does not notice, reading gives the bytes that were saved or an error, and the
    check tells; never other bytes."""
    draws = random.Random(seed)
    size = (folder / "library.db").stat().st_size
    overwrite(draws.randrange(100, size - 600), 600)(folder / "library.db")
    wrong = look_through(folder, full)
    assert wrong is None or "damaged" in wrong or "is not what was saved" in wrong
    Library.restore(folder, at=NOON)
    with Library.open(folder, clock=SetClock()) as library:
        assert everything(library) == full


def look_through(folder: Path, full: Contents) -> str | None:
    """What opening, the check or reading says is wrong; None where all was read, and right."""
    try:
        with Library.open(folder, clock=SetClock()) as library:
            faults = library.check().faults
            if faults:
                return "; ".join(faults)
            assert everything(library) == full
    except EvencastError as error:
        return error.what
    return None


def test_a_lost_write_ahead_log_costs_nothing(folder: Path) -> None:
    """What SQLite had not yet moved into the database itself is taken from the edits."""
    library = Library.open(folder, clock=SetClock())
    contents = work(library, SetClock())
    copy = folder.with_name("copy")
    shutil.copytree(folder, copy)
    library.close()
    assert (copy / "library.db-wal").stat().st_size > 10_000
    for name in ("library.db-wal", "library.db-shm"):
        (copy / name).unlink()
    if look_through(copy, contents) is not None:  # nothing at all had been moved into it
        Library.restore(copy, at=NOON)
    opened = Library.open(copy, clock=SetClock())
    with opened:
        assert everything(opened) == contents
        assert opened.check().faults == ()


def test_an_older_copy_is_brought_up_to_date(folder: Path) -> None:
    """A database put back by hand takes the edits it lacks."""
    with Library.open(folder, clock=SetClock()) as library:
        plan = library.add(library.new_bundle("b"), "plan.toml", b"0", by="A")
    older = (folder / "library.db").read_bytes()
    with Library.open(folder, clock=SetClock()) as library:
        for number in range(1, 5):
            library.save(plan, b"%d" % number, based_on=number, by="A")
    (folder / "library.db").write_bytes(older)
    with Library.open(folder, clock=SetClock()) as library:
        assert everything(library) == {"b/plan.toml": [b"0", b"1", b"2", b"3", b"4"]}
        assert library.save(plan, b"5", based_on=5, by="A").record.change == 7
        assert library.check().faults == ()


def test_a_copy_older_than_the_edits_is_set_aside(folder: Path) -> None:
    """Where edits in between are gone, a backup holds them: it is offered."""
    clock = SetClock()
    with Library.open(folder, clock=clock) as library:
        library.new_bundle("first")
    older = (folder / "library.db").read_bytes()
    with Library.open(folder, clock=clock) as library:
        contents = work(library, clock)
    assert Edits(folder / "edits").all()[0].first > 2
    (folder / "library.db").write_bytes(older)
    with pytest.raises(EvencastError, match="it ends with change 1, and later ones were saved"):
        Library.open(folder, clock=clock)
    Library.restore(folder, at=clock.at)
    with Library.open(folder, clock=clock) as library:
        assert everything(library) == contents


def test_a_database_that_is_gone_is_not_begun_anew(folder: Path, full: Contents) -> None:
    """An empty library in its place would look as if all were lost."""
    (folder / "library.db").unlink()
    with pytest.raises(EvencastError) as raised:
        Library.open(folder, clock=SetClock())
    assert raised.value.what.startswith("library.db is not there, but backups")
    assert "`evencast library restore` brings back" in raised.value.remedy
    assert not (folder / "library.db").exists()
    Library.restore(folder, at=NOON)
    with Library.open(folder, clock=SetClock()) as library:
        assert everything(library) == full


def test_damage_that_shows_in_the_midst_of_work_is_said(folder: Path, full: Contents) -> None:
    """What to do is said then too; nothing is set aside while the file is in use."""
    with Library.open(folder, clock=SetClock()) as library:
        plan = library.document(library.bundle("bindery"), "plan.toml")
        with closing(sqlite3.connect(folder / "library.db")) as connection:
            connection.execute("DROP TRIGGER content_refuses_update")
            connection.execute("UPDATE content SET bytes = x'00' WHERE size_bytes < 100")
            connection.commit()
        with pytest.raises(EvencastError) as raised:
            library.read(plan)
        assert "damaged (plan.toml, revision 25, is not what was saved)" in raised.value.what
        assert "sets the damaged file aside" in raised.value.remedy
        assert len(library.check().faults) == 20
        with pytest.raises(EvencastError, match="is damaged in the library"):
            library.backup(at=NOON.replace(day=25))
    assert len(list((folder / "backups").iterdir())) == 2
    Library.restore(folder, at=NOON)
    with Library.open(folder, clock=SetClock()) as library:
        assert everything(library) == full


def test_an_edit_that_is_lacking_and_cannot_be_read_is_told(folder: Path) -> None:
    """What comes before it is brought back; that one cannot be."""
    with Library.open(folder, clock=SetClock()) as library:
        plan = library.add(library.new_bundle("b"), "plan.toml", b"0", by="A")
    older = (folder / "library.db").read_bytes()
    with Library.open(folder, clock=SetClock()) as library:
        for number in range(1, 4):
            library.save(plan, b"%d" % number, based_on=number, by="A")
    (folder / "library.db").write_bytes(older)
    bad = sorted((folder / "edits").iterdir())[3]
    bad.write_bytes(bad.read_bytes()[:-50])
    with pytest.raises(EvencastError) as raised:
        Library.open(folder, clock=SetClock())
    assert f"it lacks {bad}, which cannot be trusted" in raised.value.what
    restored = Library.restore(folder, at=NOON)
    assert restored.notes[0].startswith(bad.name)
    with Library.open(folder, clock=SetClock()) as library:
        assert everything(library) == {"b/plan.toml": [b"0", b"1"]}


def test_a_server_that_lost_a_table_is_said(
    tmp_path: Path, server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its files are not ours to set aside."""
    for name in ("XDG_DATA_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    place = server.new_database()
    with Library.open(place) as library:
        library.new_bundle("b")
        made = library.backup()
    database = Database(place_of(place))
    with database.writing() as connection:
        connection.exec_driver_sql("DROP TABLE holding")
    database.close()
    with pytest.raises(EvencastError) as raised:
        Library.open(place)
    assert "is damaged (tables are missing: holding)" in raised.value.what
    assert str(made.path) in raised.value.remedy
    with pytest.raises(EvencastError, match="does not hold together"):
        Library.restore(place, made.path, at=NOON)


def test_a_newer_library_is_left_alone(place: str) -> None:
    """A program that does not know its tables changes nothing."""
    with Library.open(place) as library:
        library.new_bundle("b")
    found = place_of(place)
    database = Database(found)
    with database.writing() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '0099'")
    database.close()
    before = None if found.folder is None else found.database.read_bytes()
    with pytest.raises(EvencastError) as raised:
        Library.open(place)
    assert "written by a newer version of evencast" in raised.value.what
    assert "version 0099" in raised.value.what
    assert raised.value.remedy.startswith("Update evencast")
    assert before is None or found.database.read_bytes() == before
    assert not found.set_aside.exists()


def test_a_database_of_something_else_is_left_alone(folder: Path) -> None:
    """It is not ours to set aside, or to put tables into."""
    folder.mkdir()
    with closing(sqlite3.connect(folder / "library.db")) as connection:
        connection.execute("CREATE TABLE recipe (name)")
        connection.commit()
    before = (folder / "library.db").read_bytes()
    with pytest.raises(EvencastError, match="is a database of something else"):
        Library.open(folder)
    assert (folder / "library.db").read_bytes() == before
    assert [each.name for each in folder.iterdir()] == ["library.db"]
