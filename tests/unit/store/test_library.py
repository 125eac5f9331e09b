"""The library as whoever uses it sees it, on SQLite and on PostgreSQL."""

from __future__ import annotations

import threading
from datetime import timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa

from evencast.errors import DocumentErrors, EvencastError
from evencast.store.library import Library, Stale
from evencast.store.library.place import place_of
from tests.libraries import NOON, SetClock

PLAN = (
    b'\xef\xbb\xbfformat = 1\r\nname = "night"\r\nkit = "kit.toml"\r\n[[light]]\r\nname = "key"\r\n'
)
KIT = b'format = 1\nname = "the van"\n[[filter]]\nname = "A"\n[[filter]]\nname = "B"\n'


def test_bytes_come_back_as_they_were_saved(library: Library) -> None:
    """Byte order mark, CRLF, no end of line, nothing at all, and every byte there is."""
    bundle = library.new_bundle("night bindery")
    for number, content in enumerate([PLAN, b"", b"no end", bytes(range(256)) * 300]):
        document = library.add(bundle, f"{number}.toml", content, by="Ada")
        found = library.read(document)
        assert found.content == content
        assert (found.number, found.record.by, found.record.saved_at) == (1, "Ada", NOON)
        assert found.record.size_bytes == len(content)
    assert library.export(bundle)["0.toml"] == PLAN


def test_what_a_document_says_is_known_of_it(library: Library) -> None:
    """Kind, title and the names of lights or filters, without reading it again."""
    bundle = library.new_bundle("b")
    library.import_files(bundle, {"plan.toml": PLAN, "kit.toml": KIT, "a.csv": b"1,2"}, by="A")
    told = [(each.name, each.kind, each.title, each.holds) for each in library.documents(bundle)]
    assert told == [
        ("a.csv", "spectrum", "", ()),
        ("kit.toml", "kit", "the van", ("A", "B")),
        ("plan.toml", "plan", "night", ("key",)),
    ]
    assert [each.name for each in library.documents(kind="kit")] == ["kit.toml"]
    kit = library.document(bundle, "kit.toml")
    library.save(kit, KIT.replace(b"the van", b"the lorry"), based_on=1, by="A")
    assert library.document(bundle, "kit.toml").title == "the lorry"


def test_a_save_from_an_old_revision_is_shown_the_new_one(library: Library) -> None:
    """Nothing is overwritten, and both are at hand."""
    document = library.add(library.new_bundle("b"), "plan.toml", b"one", by="Ada")
    library.save(document, b"two", based_on=1, by="Ben")
    with pytest.raises(Stale) as raised:
        library.save(document, b"three", based_on=1, by="Cleo")
    assert raised.value.head.content == b"two"
    assert raised.value.head.number == 2
    assert "Ben saved another as revision 2" in raised.value.what
    assert library.read(document).content == b"two"
    assert library.save(document, b"three", based_on=2, by="Cleo").number == 3


def test_the_same_save_said_twice_is_one(library: Library) -> None:
    """A phone that lost the answer says it again; its bytes are there already."""
    document = library.add(library.new_bundle("b"), "plan.toml", b"one", by="Ada")
    first = library.save(document, b"two", based_on=1, by="Ada")
    assert library.save(document, b"two", based_on=1, by="Ada") == first
    assert [each.number for each in library.history(document)] == [1, 2]


def test_a_document_taken_out_can_be_brought_back(library: Library, clock: SetClock) -> None:
    """Every revision stays; taking out is one of them."""
    bundle = library.new_bundle("b")
    document = library.add(bundle, "plan.toml", b"one", by="Ada")
    library.save(document, b"two", based_on=1, by="Ada")
    clock.forward(hours=1)
    with pytest.raises(Stale):
        library.remove(document, based_on=1, by="Ben")
    assert library.remove(document, based_on=2, by="Ben").removed
    assert library.documents(bundle) == []
    assert [each.name for each in library.removed(bundle)] == ["plan.toml"]
    assert library.export(bundle) == {}
    with pytest.raises(EvencastError, match="was taken out by Ben with revision 3"):
        library.read(document)
    with pytest.raises(Stale) as raised:
        library.save(document, b"late", based_on=2, by="Cleo")
    assert raised.value.head.record.removed
    back = library.bring_back(document, 1, based_on=3, by="Ada")
    assert (back.number, back.content) == (4, b"one")
    assert back.record.note == "brought back from revision 1"
    assert library.read(document, 2).content == b"two"
    assert [each.sha256 is None for each in library.history(document)] == [
        False,
        False,
        True,
        False,
    ]
    assert [each.name for each in library.documents(bundle)] == ["plan.toml"]


def test_a_name_taken_out_may_be_used_again(library: Library) -> None:
    """It is the same document, with one more revision."""
    bundle = library.new_bundle("b")
    document = library.add(bundle, "plan.toml", b"one", by="Ada")
    library.remove(document, based_on=1, by="Ada")
    again = library.add(bundle, "plan.toml", b"new", by="Ben")
    assert (again.id, again.head.number) == (document.id, 3)


def test_what_is_not_there_is_said_with_what_is(library: Library) -> None:
    """Bundles, documents, revisions."""
    bundle = library.new_bundle("night bindery")
    document = library.add(bundle, "plan.toml", b"one", by="Ada")
    with pytest.raises(EvencastError) as raised:
        library.bundle("nigth bindery")
    assert raised.value.remedy == "Did you mean night bindery?"
    with pytest.raises(EvencastError) as raised:
        library.document(bundle, "plan.tml")
    assert raised.value.remedy == "Did you mean plan.toml?"
    for number in (0, 2, -1):
        with pytest.raises(EvencastError) as raised:
            library.read(document, number)
        assert raised.value.remedy == "They count from 1 to 1."
    assert library.bundle("NIGHT Bindery") == bundle


def test_names_are_taken_once(library: Library) -> None:
    """Also where they differ in case only, or one is the folder of the other."""
    bundle = library.new_bundle("Bindery")
    with pytest.raises(EvencastError, match='there is a bundle "Bindery" already'):
        library.new_bundle("BINDERY")
    library.add(bundle, "spectra/lamp.csv", b"1", by="A")
    for name in ("spectra/Lamp.csv", "Spectra/other.csv", "spectra", "spectra/lamp.csv/x.csv"):
        with pytest.raises(EvencastError, match="cannot lie beside"):
            library.add(bundle, name, b"2", by="A")
    with pytest.raises(EvencastError, match="is there already"):
        library.add(bundle, "spectra/lamp.csv", b"2", by="A")
    assert list(library.export(bundle)) == ["spectra/lamp.csv"]


def test_bringing_back_does_not_clash(library: Library) -> None:
    """Where another took the place meanwhile, it is said."""
    bundle = library.new_bundle("b")
    document = library.add(bundle, "Plan.toml", b"one", by="A")
    library.remove(document, based_on=1, by="A")
    library.add(bundle, "plan.toml", b"two", by="A")
    with pytest.raises(EvencastError, match="cannot lie beside"):
        library.bring_back(document, 1, based_on=2, by="A")


def test_importing_again_changes_only_what_differs(library: Library) -> None:
    """Bytes that are the same make no revision; a document not among the files stays."""
    bundle = library.new_bundle("b")
    files = {"plan.toml": PLAN, "spectra/a.csv": b"1,2\r\n", "b.csv": b"3"}
    assert len(library.import_files(bundle, files, by="A")) == 3
    assert library.import_files(bundle, files, by="A") == []
    assert library.export(bundle) == files
    made = library.import_files(bundle, {"b.csv": b"4", "plan.toml": PLAN}, by="B")
    assert [(each.name, each.number) for each in made] == [("b.csv", 2)]
    assert library.export(bundle) == files | {"b.csv": b"4"}


def test_an_import_tells_every_bad_name_and_takes_nothing(library: Library) -> None:
    """All at once, and all or nothing; also where only what is there already clashes."""
    bundle = library.new_bundle("b")
    files = {"good.toml": b"1", "../up.toml": b"2", "aux.csv": b"3", "Good.toml": b"4"}
    with pytest.raises(DocumentErrors) as raised:
        library.import_files(bundle, files, by="A")
    assert [each.where for each in raised.value.problems] == ["../up.toml", "aux.csv", "Good.toml"]
    assert library.documents(bundle) == []
    library.add(bundle, "kit.toml", b"1", by="A")
    with pytest.raises(DocumentErrors):
        library.import_files(bundle, {"a.csv": b"1", "KIT.toml": b"2"}, by="A")
    assert list(library.export(bundle)) == ["kit.toml"]


def test_changes_are_counted_across_documents(library: Library) -> None:
    """Whoever knows a number learns all that came after it, and nothing twice."""
    assert library.last_change() == 0
    bundle = library.new_bundle("b")
    start = library.last_change()
    a = library.add(bundle, "a.toml", b"1", by="A")
    b = library.add(bundle, "b.toml", b"1", by="A")
    library.save(a, b"2", based_on=1, by="B")
    middle = library.last_change()
    library.remove(b, based_on=1, by="C")
    told = [
        (each.name, each.number, each.by, each.removed) for each in library.changes_after(start)
    ]
    assert told == [
        ("a.toml", 1, "A", False),
        ("b.toml", 1, "A", False),
        ("a.toml", 2, "B", False),
        ("b.toml", 2, "C", True),
    ]
    assert [each.by for each in library.changes_after(middle)] == ["C"]
    assert library.changes_after(library.last_change()) == []
    assert library.changes_after(10_000) == library.changes_after(0)


def test_a_clock_that_is_set_back_changes_no_order(library: Library, clock: SetClock) -> None:
    """Numbers count on; the dates are told as the clock said them."""
    document = library.add(library.new_bundle("b"), "a.toml", b"1", by="A")
    clock.forward(days=-400)
    second = library.save(document, b"2", based_on=1, by="A")
    assert second.record.saved_at == NOON - timedelta(days=400)
    assert library.read(document).content == b"2"
    assert [each.number for each in library.history(document)] == [1, 2]
    assert [each.number for each in library.changes_after(1)] == [1, 2]


def test_two_at_once_cannot_both_be_first(library: Library, place: str) -> None:
    """Of many threads, half of them with a connection of their own, one saves and the others are
    shown what it saved."""
    document = library.add(library.new_bundle("b"), "a.toml", b"0", by="A")
    saved: list[bytes] = []
    stale: list[bytes] = []

    def edit(opened: Library, number: int) -> None:
        try:
            saved.append(opened.save(document, b"%d" % number, based_on=1, by=f"T{number}").content)
        except Stale as late:
            stale.append(late.head.content)

    with Library.open(place) as other:
        threads = [
            threading.Thread(target=edit, args=(library if number % 2 else other, number))
            for number in range(1, 13)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    assert len(saved) == 1
    assert stale == saved * 11


@pytest.mark.parametrize("deed", ["UPDATE {} SET {} = {}", "DELETE FROM {}", "TRUNCATE {} CASCADE"])
@pytest.mark.parametrize(
    ("table", "column"),
    [("revision", "note"), ("content", "size_bytes"), ("document", "name"), ("bundle", "name")],
)
def test_the_database_itself_refuses_changes(
    library: Library, place: str, deed: str, table: str, column: str
) -> None:
    """By triggers: whoever opens it with another program cannot rewrite history unawares."""
    if deed.startswith("TRUNCATE") and "://" not in place:
        deed = "REPLACE INTO {0} SELECT * FROM {0}"
    library.add(library.new_bundle("b"), "a.toml", b"1", by="A")
    library.close()
    engine = sa.create_engine(place_of(place).url)
    with engine.connect() as connection:
        if "://" not in place:
            connection.exec_driver_sql("PRAGMA recursive_triggers = ON")
        with pytest.raises(sa.exc.DBAPIError, match="never changed"):
            connection.exec_driver_sql(deed.format(table, column, "0"))
    engine.dispose()


def test_the_index_is_made_anew(library: Library, place: str) -> None:
    """What was wrong in it is noticed by the check, and right afterwards."""
    bundle = library.new_bundle("b")
    library.import_files(bundle, {"plan.toml": PLAN, "kit.toml": KIT}, by="A")
    gone = library.add(bundle, "gone.csv", b"1", by="A")
    library.remove(gone, based_on=1, by="A")
    before = library.documents(), library.removed(bundle)
    assert library.check().mended == ()
    engine = sa.create_engine(place_of(place).url)
    with engine.begin() as connection:
        connection.exec_driver_sql("UPDATE entry SET title = 'wrong' WHERE kind = 'plan'")
        connection.exec_driver_sql("DELETE FROM holding")
    engine.dispose()
    found = library.check()
    assert found.faults == ()
    assert found.mended == (
        "kit.toml: the index does not say what the document says",
        "plan.toml: the index does not say what the document says",
    )
    assert library.check().mended == ()
    assert (library.documents(), library.removed(bundle)) == before


def test_a_checkout_is_the_bundle_on_disk(library: Library) -> None:
    """Another folder when a content changes, the same one while none does."""
    bundle = library.new_bundle("b")
    files = {"plan.toml": PLAN, "spectra/a.csv": b"1\r\n"}
    library.import_files(bundle, files, by="A")
    first = library.checkout(bundle)
    assert files_in(first) == files
    assert library.checkout(bundle) == first
    document = library.document(bundle, "plan.toml")
    library.save(document, b"two", based_on=1, by="A")
    second = library.checkout(bundle)
    assert second != first
    assert files_in(second) == files | {"plan.toml": b"two"}
    assert files_in(first) == files
    library.bring_back(document, 1, based_on=2, by="A")
    assert library.checkout(bundle) == first
    assert files_in(library.checkout(library.new_bundle("empty"))) == {}


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file below, by name."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


@pytest.mark.parametrize("by", ["x" * 81, "a\x00b", "\udc80"])
def test_who_saves_is_one_line(library: Library, by: str) -> None:
    """White space is put together, the rest is refused."""
    bundle = library.new_bundle("b")
    with pytest.raises(EvencastError):
        library.add(bundle, "a.toml", b"1", by=by)
    assert library.add(bundle, "a.toml", b"1", by=" Ada \n B ").head.by == "Ada B"


def test_a_document_may_not_be_huge(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """One byte decides."""
    monkeypatch.setattr("evencast.store.library.carrying.MOST_DOCUMENT_BYTES", 1 << 20)
    bundle = library.new_bundle("b")
    document = library.add(bundle, "a.dng", bytes(1 << 20), by="A")
    for act in (
        lambda: library.add(bundle, "b.dng", bytes((1 << 20) + 1), by="A"),
        lambda: library.save(document, bytes((1 << 20) + 1), based_on=1, by="A"),
        lambda: library.import_files(bundle, {"c.dng": bytes((1 << 20) + 1)}, by="A"),
    ):
        with pytest.raises(EvencastError):
            act()
    assert list(library.export(bundle)) == ["a.dng"]
