from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web import Crewed, filled


@pytest.fixture
def crewed(tmp_path: Path) -> Iterator[Crewed]:
    """The app with the demo's job, open to the crew."""
    with filled(tmp_path / "library") as library:
        made = Crewed(library)
        yield made
        made.close()
