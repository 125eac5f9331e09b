"""What runs in processes that are killed: each tells what it was told, line by line.

They are forked from one process that has loaded everything, so that starting one costs nothing.
"""

from __future__ import annotations

import os
import resource
import signal
import sys
import traceback
from itertools import count
from typing import Any, NoReturn

import psycopg
import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.store.library import Library, migrations
from evencast.store.library.database import Database
from evencast.store.library.place import place_of


def say(line: str) -> None:
    """One line, at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def save_for_ever(place: str, mark: str) -> None:
    """Saves, new documents, imports and backups; a line for each once it is done. Without end, but
    that of the process that started it."""
    parent = os.getppid()
    with Library.open(place) as library:
        bundle = library.new_bundle(mark)
        say(f"bundle {mark}")
        document = library.add(bundle, "plan.toml", f"{mark} 0".encode(), by="child")
        say(f"plan.toml 1 {mark} 0")
        for number in count(1):
            if os.getppid() != parent:
                return
            content = f"{mark} {number}"
            made = library.save(
                document, content.encode() * (1 + number % 7 * 100), based_on=number, by="child"
            )
            say(f"plan.toml {made.number} {content}")
            if number % 5 == 0:
                name = f"spectra/{number}.csv"
                library.import_files(bundle, {name: content.encode()}, by="child")
                say(f"{name} 1 {content}")
            if number % 8 == 0:
                library.backup()
                say("backup")


def fill(place: str, mark: str) -> None:
    """Larger and larger saves until one is refused; then what it said."""
    with Library.open(place) as library:
        bundle = library.new_bundle(mark)
        document = library.add(bundle, "plan.toml", b"0", by="child")
        say("plan.toml 1 0")
        try:
            for number in count(1):
                noise = os.urandom(40_000).hex()
                content = f"{number} {noise}"
                library.save(document, content.encode(), based_on=number, by="child")
                say(f"plan.toml {number + 1} {content}")
        except EvencastError as error:
            say(f"refused {error.what}")


def fill_to(place: str, mark: str, most_bytes: str) -> None:
    """As `fill`, where no file may be larger than that."""
    with Library.open(place):
        pass
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(most_bytes), int(most_bytes)))
    fill(place, mark)


def upgrade_and_die(place: str, statement: str) -> None:
    """Bring the tables up to date, and be killed before a statement of that number."""
    left = int(statement)

    def counted(*_: Any) -> None:
        nonlocal left
        left -= 1
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)

    sa.event.listen(sa.Engine, "before_cursor_execute", counted)
    sa.event.listen(sa.Engine, "commit", counted)
    Library.open(place).close()
    say("opened")


def make_first_version(place: str) -> None:
    """A library as the first version of the tables had it, with a document in it."""
    found = place_of(place)
    if found.folder is not None:
        found.folder.mkdir(parents=True)
    database = Database(found)
    with database.writing() as connection:
        migrations.upgrade(connection, "0001")
        for statement in (
            "INSERT INTO bundle VALUES (1, 'b', 'b', '2026-03-07T12:00:00+00:00')",
            "INSERT INTO document VALUES (2, 1, 'plan.toml')",
            "INSERT INTO content VALUES "
            "('ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb', 1, "
            + ("'a'::bytea" if found.folder is None else "x'61'")
            + ")",
            "INSERT INTO revision VALUES (2, 2, 1, "
            "'ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb', "
            "'2026-03-07T12:00:00+00:00', 'Ada', '')",
            "INSERT INTO entry VALUES (2, 2, 'other', '')",
        ):
            connection.exec_driver_sql(statement)
    database.close()


DEEDS = (save_for_ever, fill, fill_to, upgrade_and_die)
assert psycopg.pq.version(), "loaded before the first fork"


def serve() -> None:
    """Start children and wait for them, as asked for on standard input, one line each."""
    for line in sys.stdin:
        deed, *arguments = line.rstrip("\n").split("\t")
        if deed == "wait":
            _, status = os.waitpid(int(arguments[0]), 0)
            say(str(os.waitstatus_to_exitcode(status)))
            continue
        number = os.fork()
        if number == 0:
            _be(deed, *arguments)
        say(str(number))


def _be(deed: str, said: str, *arguments: str) -> NoReturn:
    """Do a deed, with a file for standard output, and end."""
    status = 1
    try:
        os.dup2(os.open(said, os.O_CREAT | os.O_WRONLY | os.O_APPEND), 1)
        next(each for each in DEEDS if each.__name__ == deed)(*arguments)
        status = 0
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(status)


if __name__ == "__main__":
    serve()
