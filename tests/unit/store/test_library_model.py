"""Any order of saves, late saves, removals, bring-backs, imports and exports, against plain
lists."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from evencast.errors import DocumentErrors, EvencastError
from evencast.store.library import Bundle, Document, Library, Stale
from evencast.store.library.carrying import files_of_zip, zip_of
from evencast.store.library.names import clash
from tests.libraries import SetClock
from tests.postgresql import Server

NAMES = st.sampled_from(
    ["plan.toml", "Plan.toml", "kit.toml", "spectra/a.csv", "spectra/b.csv", "spectra", "z/a/b.csv"]
)
CONTENTS = st.sampled_from(
    [b"", b"a", b"b\r\n", b"\xef\xbb\xbfformat=1\n", b"format=1\n[[light]]\n"]
)
BY = st.sampled_from(["Ada", "Ben"])


class Machine(RuleBasedStateMachine):
    """The library beside a dictionary of lists; None in a list is a removal."""

    places: Any = None

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.clock = SetClock()
        self.place = type(self).places(self.folder)
        self.library = Library.open(self.place, clock=self.clock)
        self.night: Bundle
        self.model: dict[str, list[bytes | None]] = {}
        self.changes: list[tuple[str, int]] = []
        self.start = 0

    def teardown(self) -> None:
        self.library.close()
        shutil.rmtree(self.folder)

    @initialize()
    def begin(self) -> None:
        self.night = self.library.new_bundle("b")
        self.start = self.library.last_change()

    def live(self) -> dict[str, bytes]:
        """What is in the bundle now."""
        return {name: all_[-1] for name, all_ in self.model.items() if all_[-1] is not None}

    def known(self, name: str) -> Document | None:
        """The document, if it ever was."""
        return self.library.document(self.night, name) if name in self.model else None

    def put(self, name: str, content: bytes | None) -> None:
        """One revision more."""
        self.model.setdefault(name, []).append(content)
        self.changes.append((name, len(self.model[name])))

    @rule(name=NAMES, content=CONTENTS, by=BY)
    def add(self, name: str, content: bytes, by: str) -> None:
        """A new document, unless there is one or one too like it."""
        if name in self.live() or clash(name, self.live()):
            with pytest.raises(EvencastError):
                self.library.add(self.night, name, content, by=by)
        else:
            self.library.add(self.night, name, content, by=by)
            self.put(name, content)

    @rule(name=NAMES, content=CONTENTS, late=st.integers(0, 2), by=BY)
    def save(self, name: str, content: bytes, late: int, by: str) -> None:
        """A save that begins from the newest revision, or from an earlier one."""
        document = self.known(name)
        if document is None:
            return
        revisions = self.model[name]
        based_on = len(revisions) - late

        def act() -> Any:
            return self.library.save(document, content, based_on=based_on, by=by)

        if revisions[-1] == content:
            assert act().number == len(revisions)
        elif late:
            with pytest.raises(Stale) as raised:
                act()
            assert raised.value.head.number == len(revisions)
            assert raised.value.head.content == (revisions[-1] or b"")
        elif revisions[-1] is None and clash(name, self.live()):
            with pytest.raises(EvencastError):
                act()
        else:
            self.put(name, content)
            assert act().number == len(self.model[name])

    @rule(name=NAMES, late=st.integers(0, 1))
    def remove(self, name: str, late: int) -> None:
        """Out of the bundle."""
        document = self.known(name)
        if document is None:
            return
        based_on = len(self.model[name]) - late
        if self.model[name][-1] is not None and late:
            with pytest.raises(Stale):
                self.library.remove(document, based_on=based_on, by="Ada")
            return
        self.library.remove(document, based_on=based_on, by="Ada")
        if self.model[name][-1] is not None:
            self.put(name, None)

    @rule(name=NAMES, number=st.integers(1, 4))
    def bring_back(self, name: str, number: int) -> None:
        """An earlier revision once more."""
        document = self.known(name)
        if document is None:
            return
        revisions = self.model[name]
        possible = number <= len(revisions) and revisions[number - 1] is not None
        blocked = revisions[-1] is None and clash(name, self.live())
        if not possible or blocked:
            with pytest.raises(EvencastError):
                self.library.bring_back(document, number, based_on=len(revisions), by="Ada")
            return
        wanted = revisions[number - 1]
        made = self.library.bring_back(document, number, based_on=len(revisions), by="Ada")
        assert made.content == wanted
        if wanted != revisions[-1]:
            self.put(name, wanted)

    @rule(files=st.dictionaries(NAMES, CONTENTS, max_size=4))
    def import_files(self, files: dict[str, bytes]) -> None:
        """All of them or none."""
        after = self.live() | files
        if any(clash(name, after) for name in files):
            with pytest.raises(DocumentErrors):
                self.library.import_files(self.night, files, by="Ada")
            return
        made = self.library.import_files(self.night, files, by="Ada")
        changed = sorted(name for name in files if self.live().get(name) != files[name])
        assert [each.name for each in made] == changed
        for name in changed:
            self.put(name, files[name])

    @rule()
    def carry_out_and_in(self) -> None:
        """An export imported again changes nothing."""
        files, _ = files_of_zip(zip_of(self.library.export(self.night)), where="b.zip")
        assert files == self.live()
        assert self.library.import_files(self.night, files, by="Ada") == []

    @rule(days=st.integers(-400, 400))
    def set_the_clock(self, days: int) -> None:
        """Nothing may hang on it."""
        self.clock.forward(days=days)

    @rule()
    def open_again(self) -> None:
        """As after a night."""
        self.library.close()
        self.library = Library.open(self.place, clock=self.clock)
        self.library.backup_if_due()

    @precondition(lambda self: "://" not in str(self.place))
    @rule()
    def lose_the_database(self) -> None:
        """And have it back, from backups and edits."""
        self.library.close()
        if self.library.place.database.exists():
            self.library.place.database.unlink()
        Library.restore(self.place, at=self.clock.at)
        self.library = Library.open(self.place, clock=self.clock)

    @invariant()
    def all_is_as_in_the_model(self) -> None:
        """Every revision of every document, the index, the changes, the folder on disk."""
        if not hasattr(self, "night"):
            return
        assert self.library.export(self.night) == self.live()
        assert [each.name for each in self.library.documents(self.night)] == sorted(self.live())
        for name, revisions in self.model.items():
            document = self.library.document(self.night, name)
            told = self.library.history(document)
            assert [each.number for each in told] == list(range(1, len(revisions) + 1))
            for number, content in enumerate(revisions, 1):
                if content is not None:
                    assert self.library.read(document, number).content == content
        told = self.library.changes_after(self.start)
        assert [(each.name, each.number) for each in told] == self.changes
        folder = self.library.checkout(self.night)
        files = [path for path in folder.rglob("*") if path.is_file()]
        found = {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
        assert found == self.live()

    @rule()
    def check(self) -> None:
        """Whole all the time."""
        checked = self.library.check()
        assert (checked.faults, checked.mended) == ((), ())


@pytest.mark.parametrize("kind", ["sqlite", "postgresql"])
def test_any_order_of_deeds(
    kind: str, request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The library is what the lists are."""
    if kind == "sqlite":
        Machine.places = staticmethod(lambda folder: folder / "library")
    else:
        for name in ("XDG_DATA_HOME", "XDG_CACHE_HOME"):
            monkeypatch.setenv(name, str(tmp_path / name))
        server: Server = request.getfixturevalue("server")
        Machine.places = staticmethod(lambda _: server.new_database())
    long = request.config.getoption("--long")
    run_state_machine_as_test(
        Machine, settings=settings(max_examples=100 if long else 6, stateful_step_count=25)
    )
