"""The person at the laptop, whose browser goes where a form leads."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from evencast.web.app import create_app
from evencast.web.desk import Desk
from tests.unit.web.conftest import HOST


@pytest.fixture
def client(desk: Desk) -> Iterator[TestClient]:
    """The person at the laptop."""
    with TestClient(create_app(desk, hosts={HOST}), raise_server_exceptions=True) as client:
        yield client
