from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults.children import Nursery
from tests.libraries import clock, library, place, server

__all__ = ["clock", "library", "nursery", "place", "server"]


@pytest.fixture(scope="session")
def nursery(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Nursery]:
    """What starts the children."""
    folder: Path = tmp_path_factory.mktemp("children")
    started = Nursery(folder)
    yield started
    started.close()
