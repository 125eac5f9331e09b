"""An app over a library of its own, and people who use it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from evencast.store.library.library import Library
from evencast.store.library.values import Document
from evencast.tables import demo_documents
from evencast.web.app import create_app
from evencast.web.asked import _person
from evencast.web.desk import Desk
from evencast.web.people import Person
from tests.web import Crewed, filled

HOST = "testserver"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A library with the demo's bundle."""
    with Library.open(tmp_path / "library") as library:
        bundle = library.new_bundle("bindery")
        files = {name: text.encode() for name, text in demo_documents().items()}
        library.import_files(bundle, files, by="me")
        yield Desk(library)


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Desk]:
    """A library in which nothing is."""
    with Library.open(tmp_path / "library") as library:
        yield Desk(library)


@pytest.fixture
def client(desk: Desk) -> Iterator[TestClient]:
    """The person at the laptop."""
    with TestClient(create_app(desk, hosts={HOST}), follow_redirects=False) as client:
        yield client


@pytest.fixture
def first_client(empty: Desk) -> Iterator[TestClient]:
    """The person at the laptop before they have anything."""
    with TestClient(create_app(empty, hosts={HOST}), follow_redirects=False) as client:
        yield client


@pytest.fixture
def looker(desk: Desk) -> Iterator[TestClient]:
    """Somebody who joined to look."""
    app = create_app(desk, hosts={HOST})
    app.dependency_overrides[_person] = lambda: Person("7", "Lea", "view")
    with TestClient(app, follow_redirects=False) as client:
        yield client


@pytest.fixture
def plan(desk: Desk) -> Document:
    """The demo's plan."""
    return desk.library.documents(kind="plan")[0]


@pytest.fixture
def kit(desk: Desk) -> Document:
    """The demo's kit."""
    return desk.library.documents(kind="kit")[0]


@pytest.fixture
def crewed(tmp_path: Path) -> Iterator[Crewed]:
    """The app with the demo's job, open to the crew."""
    with filled(tmp_path / "library") as library:
        made = Crewed(library)
        yield made
        made.close()
