"""Libraries to test on: the same tests for a folder and for a database on a server."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from evencast.store.library import Library
from tests.postgresql import Server

NOON = datetime(2026, 3, 7, 12, 0, tzinfo=UTC)


class SetClock:
    """A clock that stands until it is set."""

    def __init__(self, at: datetime = NOON) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at

    def forward(self, **by: float) -> datetime:
        """Set it on, or back where the number is negative."""
        self.at += timedelta(**by)
        return self.at


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """One server for all tests."""
    started = Server()
    yield started
    started.stop()


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """Where an empty library may be."""
    if request.param == "sqlite":
        return str(tmp_path / "library")
    started: Server = request.getfixturevalue("server")
    for name in ("XDG_DATA_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    return started.new_database()


@pytest.fixture
def clock() -> SetClock:
    return SetClock()


@pytest.fixture
def library(place: str, clock: SetClock) -> Iterator[Library]:
    """An empty library."""
    with Library.open(place, clock=clock) as opened:
        yield opened
