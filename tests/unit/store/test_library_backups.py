"""Backups: what they hold, which are kept, and how they are put back."""

from __future__ import annotations

import json
import zipfile
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from evencast.errors import EvencastError
from evencast.store.library import Library
from evencast.store.library import archive as archives
from evencast.store.library.backups import backups_in, thin_out
from evencast.store.library.shelf import digest
from tests.libraries import NOON, SetClock
from tests.postgresql import Server

History = dict[tuple[str, str], list[tuple[int, str | None, str, str, str]]]


def history(library: Library) -> History:
    """Every line of every history, with all that is told of it."""
    found: History = {}
    for bundle in library.bundles():
        for each in (*library.documents(bundle), *library.removed(bundle)):
            found[bundle.name, each.name] = [
                (line.change, line.sha256, line.saved_at.isoformat(), line.by, line.note)
                for line in library.history(each)
            ]
    return found


def work(library: Library) -> History:
    """Two bundles, revisions, one taken out, bytes of all sorts."""
    first = library.new_bundle("Night bindery")
    plan = library.add(first, "plan.toml", b"\xef\xbb\xbfa\r\n", by="Ada")
    library.save(plan, b"two", based_on=1, by="Ben", note="dimmed")
    library.bring_back(plan, 1, based_on=2, by="Ada")
    gone = library.add(first, "spectra/ü.csv", bytes(range(256)), by="Ada")
    library.remove(gone, based_on=1, by="Ada")
    library.new_bundle("empty")
    return history(library)


@pytest.fixture
def elsewhere(place: str, tmp_path: Path, request: pytest.FixtureRequest) -> str:
    if "://" not in place:
        return str(tmp_path / "elsewhere")
    started: Server = request.getfixturevalue("server")
    return started.new_database()


def test_a_backup_holds_everything_and_puts_it_back(
    library: Library, elsewhere: str, tmp_path: Path
) -> None:
    """On another laptop: the same bytes, numbers, dates, names and notes."""
    before = work(library)
    made = library.backup(to=tmp_path / "stick")
    assert made.path == tmp_path / "stick" / "evencast-2026-03-07T120000Z-000000007.zip"
    restored = Library.restore(elsewhere, made.path, at=NOON)
    assert (restored.bundles, restored.documents, restored.revisions) == (2, 2, 5)
    assert (restored.last_change, restored.edits, restored.set_aside) == (7, 0, None)
    with Library.open(elsewhere) as other:
        assert history(other) == before
        assert [each.name for each in other.bundles()] == ["empty", "Night bindery"]
        assert other.documents() == library.documents()
        plan = other.document(other.bundle("night bindery"), "plan.toml")
        assert [other.read(plan, number).content for number in (1, 2, 3)] == [
            b"\xef\xbb\xbfa\r\n",
            b"two",
            b"\xef\xbb\xbfa\r\n",
        ]
        assert other.save(plan, b"on", based_on=3, by="Ada").record.change == 8
        assert other.check().faults == ()


def test_a_backup_is_the_same_for_either_database(
    tmp_path: Path, server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Byte for byte: it can be carried from one to the other."""
    for name in ("XDG_DATA_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    made = []
    for number, place in enumerate([str(tmp_path / "library"), server.new_database()]):
        with Library.open(place, clock=SetClock()) as library:
            work(library)
            made.append(library.backup(to=tmp_path / str(number)).path.read_bytes())
    assert made[0] == made[1]


def test_a_backup_can_be_read_by_hand(library: Library) -> None:
    """Each content stands once, under a name that says what it is."""
    work(library)
    with zipfile.ZipFile(library.backup().path) as archive:
        assert archive.namelist() == [
            "Night bindery/plan.toml/000001.toml",
            "Night bindery/plan.toml/000002.toml",
            "Night bindery/spectra/ü.csv/000001.csv",
            "manifest.json",
        ]
        assert archive.read("Night bindery/plan.toml/000002.toml") == b"two"
        told = json.loads(archive.read("manifest.json"))
    assert (told["format"], told["last_change"], len(told["revisions"])) == (1, 7, 5)


def named(folder: Path, at: datetime, change: int) -> Path:
    """A file with the name of a backup of that date and that last change."""
    path = folder / f"evencast-{at:%Y-%m-%dT%H%M%SZ}-{change:09}.zip"
    path.touch()
    return path


def test_which_backups_are_kept(tmp_path: Path) -> None:
    """Of two a day for half a year: the newest of each of the last 7 days, and of the last 4
    weeks; what is no backup is left alone."""
    (tmp_path / "letter.zip").touch()
    for number in range(1, 361):
        named(tmp_path, NOON + timedelta(hours=12 * number), number)
    thin_out(tmp_path)
    found = backups_in(tmp_path)
    newest = NOON + timedelta(days=180)
    days = [(newest - each.made_at) / timedelta(days=1) for each in found]
    assert days[:7] == [0, 1, 2, 3, 4, 5, 6]
    assert found[0].last_change == 360
    assert {each.made_at.isocalendar()[:2] for each in found} == {
        (newest - timedelta(weeks=weeks)).isocalendar()[:2] for weeks in range(4)
    }
    assert len(found) in (9, 10)
    assert (tmp_path / "letter.zip").exists()


def test_days_count_where_there_is_a_backup(tmp_path: Path) -> None:
    """A library used once a month keeps seven of them, and after years as many."""
    for number in range(1, 41):
        named(tmp_path, NOON + timedelta(days=31 * number), number)
    thin_out(tmp_path)
    assert [each.last_change for each in backups_in(tmp_path)] == list(range(40, 33, -1))


def test_a_clock_that_is_set_back_costs_no_backup(library: Library, clock: SetClock) -> None:
    """The newest by its changes is kept and is the one that is put back, whatever its date."""
    document = library.add(library.new_bundle("b"), "a.toml", b"0", by="A")
    library.backup()
    clock.forward(days=-3000)
    library.save(document, b"1", based_on=1, by="A")
    made = library.backup_if_due()
    assert made is not None
    assert backups_in(library.place.backups)[0] == made
    assert len(backups_in(library.place.backups)) == 2


def test_when_a_backup_is_due(library: Library, clock: SetClock) -> None:
    """Once a day, and only where something changed."""
    assert library.backup_if_due() is None
    document = library.add(library.new_bundle("b"), "a.toml", b"0", by="A")
    assert library.backup_if_due() is not None
    library.save(document, b"1", based_on=1, by="A")
    clock.forward(hours=23)
    assert library.backup_if_due() is None
    clock.forward(hours=1)
    assert library.backup_if_due() is not None
    clock.forward(days=30)
    assert library.backup_if_due() is None


def spoilt(path: Path, place: int) -> None:
    content = bytearray(path.read_bytes())
    content[place] ^= 1
    path.write_bytes(bytes(content))


def test_one_changed_bit_of_a_backup_is_noticed(library: Library, tmp_path: Path) -> None:
    """Wherever it is, but in what no reader of archives looks at: never are other bytes read."""
    work(library)
    path = library.backup(to=tmp_path).path
    content = path.read_bytes()
    before = archives.check(path)
    noticed = 0
    for place in range(0, len(content), 7):
        path.write_bytes(content)
        spoilt(path, place)
        try:
            assert archives.check(path) == before
        except EvencastError:
            noticed += 1
    assert noticed > 0.6 * len(content) / 7


def test_a_backup_cut_short_is_refused(library: Library, elsewhere: str, tmp_path: Path) -> None:
    """And nothing is put back, nor anything set aside."""
    work(library)
    path = library.backup(to=tmp_path / "stick").path
    content = path.read_bytes()
    for length in (0, 10, len(content) // 2, len(content) - 1):
        path.write_bytes(content[:length])
        with pytest.raises(EvencastError, match="cannot be trusted"):
            Library.restore(elsewhere, path, at=NOON)
    with pytest.raises(EvencastError, match="there is no such file"):
        Library.restore(elsewhere, tmp_path / "nowhere.zip", at=NOON)
    if "://" not in elsewhere:
        assert not Path(elsewhere).exists() or list(Path(elsewhere).iterdir()) == []


def rewritten(path: Path, change: object) -> None:
    """The archive with another manifest, and a comment that fits it."""
    with zipfile.ZipFile(path) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    data = json.loads(members["manifest.json"])
    assert callable(change)
    change(data)
    members["manifest.json"] = json.dumps(data).encode()
    with zipfile.ZipFile(path, "w") as archive:
        for name, content in members.items():
            archive.writestr(name, content)
        archive.comment = digest(members["manifest.json"]).encode()


@pytest.mark.parametrize(
    "change",
    [
        lambda data: data.pop("revisions"),
        lambda data: data["bundles"][0].update(name="../up"),
        lambda data: data["documents"][0].update(name="/etc/passwd"),
        lambda data: data["documents"][0].update(bundle_id=99),
        lambda data: data["revisions"][0].update(number=7),
        lambda data: data["revisions"][1].update(document_id=99),
        lambda data: data["revisions"].pop(),
        lambda data: data["contents"].pop(),
        lambda data: data["contents"][0].update(size_bytes=3),
        lambda data: data["contents"][0].update(member="manifest.json"),
        lambda data: data.update(format=2),
        lambda data: data.update(last_change=1e400),
        lambda data: data.update(last_change="7"),
        lambda data: data.update(after=3),
        lambda data: data["revisions"][0].update(saved_at="yesterday"),
        lambda data: data.update(contents=[1]),
    ],
)
def test_a_backup_that_contradicts_itself_is_refused(
    library: Library, elsewhere: str, tmp_path: Path, change: object
) -> None:
    """Also one that somebody made to look sound."""
    work(library)
    path = library.backup(to=tmp_path / "stick").path
    rewritten(path, change)
    with pytest.raises(EvencastError):
        Library.restore(elsewhere, path, at=NOON)
    with Library.open(elsewhere) as other:
        assert other.bundles() == []


def test_restoring_does_not_overwrite_a_database_on_a_server(
    tmp_path: Path, server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There is no place to set it aside: an empty one is asked for."""
    for name in ("XDG_DATA_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    place = server.new_database()
    with Library.open(place) as library:
        before = work(library)
        made = library.backup()
        with pytest.raises(EvencastError) as raised:
            Library.restore(place, made.path, at=NOON)
        assert raised.value.what == "the database is not empty; nothing was changed"
        assert history(library) == before


def test_going_back_to_an_older_backup_sets_the_rest_aside(tmp_path: Path) -> None:
    """What was made after it is kept in a dated folder, and the library goes on from there."""
    folder, clock = tmp_path / "library", SetClock()
    with Library.open(folder, clock=clock) as library:
        document = library.add(library.new_bundle("b"), "a.toml", b"0", by="A")
        old = library.backup()
        clock.forward(days=1)
        library.save(document, b"1", based_on=1, by="A")
        new = library.backup()
    restored = Library.restore(folder, old.path, at=clock.at)
    assert restored.set_aside == folder / "set-aside" / "2026-03-08T120000Z"
    kept = {each.name for each in restored.set_aside.iterdir()}
    assert {"library.db", new.path.name} <= kept
    with Library.open(folder, clock=clock) as library:
        assert library.export(library.bundle("b")) == {"a.toml": b"0"}
        library.save(document, b"other", based_on=1, by="A")
        assert library.backup_if_due() is not None
    (folder / "library.db").write_bytes(b"")
    with pytest.raises(EvencastError):
        Library.open(folder, clock=clock)
    Library.restore(folder, at=clock.at)
    with Library.open(folder, clock=clock) as library:
        assert library.export(library.bundle("b")) == {"a.toml": b"other"}


def test_a_bad_backup_is_passed_over(tmp_path: Path) -> None:
    """The one before it and the edits since bring back the same; that it was bad is told."""
    folder, clock = tmp_path / "library", SetClock()
    with Library.open(folder, clock=clock) as library:
        document = library.add(library.new_bundle("b"), "a.toml", b"0", by="A")
        good = library.backup()
        library.save(document, b"1", based_on=1, by="A")
        clock.forward(days=1)
        bad = library.backup()
        library.save(document, b"2", based_on=2, by="A")
        before = history(library)
    bad.path.write_bytes(bad.path.read_bytes()[:-5])
    (folder / "library.db").write_bytes(b"")
    with pytest.raises(EvencastError) as raised:
        Library.open(folder, clock=clock)
    assert f"brings back {good.path} of 2026-03-07 12:00 UTC and 2 edits" in raised.value.remedy
    restored = Library.restore(folder, at=clock.at)
    assert len(restored.notes) == 1
    assert restored.notes[0].startswith(f"{bad.path.name} cannot be trusted: ")
    assert restored.edits == 2
    with Library.open(folder, clock=clock) as library:
        assert history(library) == before


def test_an_edit_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    """All before it comes back; what could not is set aside with the rest."""
    folder = tmp_path / "library"
    with Library.open(folder, clock=SetClock()) as library:
        document = library.add(library.new_bundle("b"), "a.toml", b"0", by="A")
        for number in (1, 2, 3):
            library.save(document, b"%d" % number, based_on=number, by="A")
    edits = sorted((folder / "edits").iterdir())
    edits[3].write_bytes(edits[3].read_bytes()[:-60])
    (folder / "library.db").unlink()
    restored = Library.restore(folder, at=NOON)
    assert restored.last_change == 3
    assert restored.notes[0].startswith(f"{edits[3].name} and edits after it were left out")
    with Library.open(folder) as library:
        assert library.read(document).content == b"1"


def test_a_library_in_use_is_not_restored(tmp_path: Path) -> None:
    """The other program would go on writing to what was set aside."""
    folder = tmp_path / "library"
    with Library.open(folder) as library:
        work(library)
        made = library.backup()
        with pytest.raises(EvencastError) as raised:
            Library.restore(folder, at=NOON)
        assert raised.value.what == "another program has the library open"
        library.new_bundle("still here")
    Library.restore(folder, made.path, at=NOON)


def test_without_a_backup_nothing_is_changed(tmp_path: Path) -> None:
    """It says where it looked, and how one is named."""
    with pytest.raises(EvencastError) as raised:
        Library.restore(tmp_path / "library", at=NOON)
    assert raised.value.what == "there is no backup"
    assert not (tmp_path / "library").exists()
