from __future__ import annotations

import io

import pytest

from evencast.cli.progress import WIDTH, progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_terminal_is_told_and_cleared(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every step begins the line anew; at the end, and after a failure, it is blank."""
    shown = Terminal()
    monkeypatch.setattr("sys.stderr", shown)
    line = f"\r{'Solving: lights 3 of 30':<{WIDTH}}"
    with pytest.raises(ValueError, match="broken"):
        fail_after_a_step()
    assert shown.getvalue() == f"{line}\r{' ' * WIDTH}\r"


def fail_after_a_step() -> None:
    with progress("Solving") as told:
        assert told is not None
        told("lights", 3, 30)
        raise ValueError("broken")


def test_nothing_is_told_where_nobody_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file or a pipe gets nothing."""
    shown = io.StringIO()
    monkeypatch.setattr("sys.stderr", shown)
    with progress("Solving") as told:
        assert told is None
    assert shown.getvalue() == ""
