"""Codes that let people in, and their sessions; on SQLite and on PostgreSQL."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import timedelta
from hashlib import sha256

import pytest
import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.store.library import Library, schema
from evencast.store.library.crew import ALPHABET, LASTS, SHORT_LENGTH
from evencast.store.library.database import Database
from evencast.store.library.place import place_of
from tests.libraries import NOON, SetClock


def rows(place: str) -> Iterator[str]:
    """All that the database holds of codes and sessions, as text."""
    database = Database(place_of(place))
    with database.reading() as connection:
        for table in (schema.join_code, schema.session):
            for row in connection.execute(sa.select(table)):
                yield " ".join(str(each) for each in row)
    database.close()


def test_codes_let_in_with_their_role(library: Library) -> None:
    """The long secret and the short form, however it is typed; a code of one role is none of the
    other."""
    made = library.crew.new_codes()
    assert set(made) == {"edit", "view"}
    for role, issued in made.items():
        short = issued.short
        for found in (
            library.crew.code_of_secret(issued.secret),
            library.crew.code_of_short(short),
            library.crew.code_of_short(f" {short[:4].lower()}-{short[4:]} "),
        ):
            assert found is not None
            assert (found.role, found.id, found.made_at) == (role, issued.code.id, NOON)


@pytest.mark.parametrize(
    "wrong", ["", "A", "AAAAAAAA", "'; DROP TABLE session", "\ud800", "٣٤٦٧٩٣٤٦", "x" * 10_000]
)
def test_what_is_no_code_lets_nobody_in(library: Library, wrong: str) -> None:
    library.crew.new_codes()
    assert library.crew.code_of_secret(wrong) is None
    assert library.crew.code_of_short(wrong) is None


def test_codes_cannot_be_guessed(library: Library) -> None:
    """128 bits in the long form, 36 and more in the short one, which is slow to try."""
    made = [each for _ in range(4) for each in library.crew.new_codes().values()]
    assert len({each.secret for each in made}) == len({each.short for each in made}) == len(made)
    assert all(len(each.secret) * 6 >= 128 for each in made)
    assert SHORT_LENGTH * math.log2(len(ALPHABET)) > 36
    assert len(set(ALPHABET)) == len(ALPHABET)
    for alike in ("0O", "1I", "1L", "5S", "2Z", "8B", "UV"):
        assert not set(alike) <= set(ALPHABET)
    assert all(set(each.short) <= set(ALPHABET) for each in made)


def test_new_codes_end_the_old(library: Library) -> None:
    """Sessions made with the old ones go on; a code looked up before lets nobody in after."""
    old = library.crew.new_codes()["edit"]
    session, _ = library.crew.join(old.code, name="Ada", device="")
    library.crew.new_codes()
    assert library.crew.code_of_secret(old.secret) is None
    assert library.crew.code_of_short(old.short) is None
    with pytest.raises(EvencastError, match="lets nobody in any more"):
        library.crew.join(old.code, name="Ben", device="")
    assert library.crew.sessions() == [session]


def test_codes_can_be_ended(library: Library) -> None:
    made = library.crew.new_codes()["view"]
    library.crew.end_codes()
    assert library.crew.code_of_secret(made.secret) is None


def test_no_secret_is_in_the_database(library: Library, place: str) -> None:
    """Neither of codes nor of sessions, nor as a digest that is quickly found by trying."""
    made = library.crew.new_codes()
    _, secret = library.crew.join(made["edit"].code, name="Ada", device="a phone")
    held = "\n".join(rows(place))
    assert "Ada" in held
    assert "a phone" in held
    for kept in (secret, *(each.secret for each in made.values())):
        assert kept not in held
    for each in made.values():
        assert each.short not in held
        assert sha256(each.short.encode()).hexdigest() not in held


def test_sessions_outlive_the_program(place: str, clock: SetClock) -> None:
    with Library.open(place, clock=clock) as library:
        code = library.crew.new_codes()["view"].code
        made, secret = library.crew.join(code, name="  Ada   Byron ", device="phone\nwith lines")
    assert (made.name, made.role, made.device) == ("Ada Byron", "view", "phone with lines")
    assert len(secret) * 6 >= 128
    with Library.open(place, clock=clock) as library:
        assert library.crew.sessions() == [made]


def test_sessions_end_one_by_one_and_all_at_once(library: Library, clock: SetClock) -> None:
    code = library.crew.new_codes()["edit"].code
    ids = []
    for number in range(4):
        clock.forward(seconds=1)
        ids.append(library.crew.join(code, name=f"P{number}", device="")[0].id)
    library.crew.end(ids[1])
    assert [each.id for each in library.crew.sessions()] == [ids[0], ids[2], ids[3]]
    library.crew.end("no such session")
    assert len(library.crew.sessions()) == 3
    library.crew.end()
    assert library.crew.sessions() == []


def test_no_two_are_called_the_same(library: Library) -> None:
    """Revisions are signed with the name; nor can somebody sign as the laptop."""
    code = library.crew.new_codes()["edit"].code

    def join(name: str) -> str:
        return library.crew.join(code, name=name, device="")[0].name

    assert [join("Ada"), join("ada"), join("ADA"), join("the Laptop")] == [
        "Ada",
        "ada 2",
        "ADA 3",
        "the Laptop 2",
    ]
    first = next(each for each in library.crew.sessions() if each.name == "Ada")
    assert library.crew.rename(first.id, "Ada") == "Ada"
    assert library.crew.rename(first.id, "ada 2") == "ada 2 2"
    names = {each.id: each.name for each in library.crew.sessions()}
    assert names[first.id] == "ada 2 2"


@pytest.mark.parametrize("name", ["", "   ", "x" * 41, "a\x00b", "a\x1bb", "\ud800"])
def test_a_name_that_is_none_is_refused(library: Library, name: str) -> None:
    code = library.crew.new_codes()["edit"].code
    with pytest.raises(EvencastError) as raised:
        library.crew.join(code, name=name, device="")
    assert raised.value.where == "name"
    assert library.crew.sessions() == []


def test_a_session_nobody_uses_lapses(library: Library, clock: SetClock) -> None:
    """Being seen keeps it."""
    code = library.crew.new_codes()["edit"].code
    used, unused = (library.crew.join(code, name=n, device="")[0] for n in ("Ada", "Ben"))
    at = clock.forward(days=LASTS.days - 1)
    library.crew.seen({used.id: at})
    clock.forward(days=2)
    found = library.crew.sessions()
    assert [each.id for each in found] == [used.id]
    assert found[0].last_seen == at
    clock.at = NOON - timedelta(days=400)  # set back: nobody is thrown out
    assert {each.id for each in library.crew.sessions()} == {used.id, unused.id}


def test_the_crew_is_no_change_of_the_library(library: Library) -> None:
    """Nobody's page is told to load anew, and no edit is written, when somebody joins."""
    before = library.last_change()
    made = library.crew.new_codes()["edit"]
    library.crew.join(made.code, name="Ada", device="")
    assert library.last_change() == before
    assert library.place.folder is None or not list(library.place.edits.glob("*"))
