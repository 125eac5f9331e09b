"""Many phones on one plan at once; see benchmarks/load.py."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from benchmarks.load import measure
from evencast.web.interfaces import interfaces

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="reads /proc")


def network() -> str | None:
    return next((each.name for each in interfaces()), None)


def test_no_edit_is_lost_with_many_phones(tmp_path: Path) -> None:
    """A short time; how long it takes is another's matter."""
    found = measure(tmp_path / "library", phones=12, seconds=10.0, interface=network())
    assert found.wrong() == []
    assert found.edits >= 2
    assert len(found.view_ms) >= 12


@pytest.mark.long
@pytest.mark.alone
def test_thirty_phones_for_ten_minutes(tmp_path: Path) -> None:
    found = measure(tmp_path / "library", phones=30, seconds=600.0, interface=network())
    print(found.told())
    assert found.missed() == []
    assert found.edits > 300
