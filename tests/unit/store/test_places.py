from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from evencast.store.places import library_dir, library_place, log_file


def test_a_variable_names_another_library(monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder or a database; nothing, or white space, names none."""
    for named in ("/jobs/library", "postgresql://h/db"):
        monkeypatch.setenv("EVENCAST_LIBRARY", f" {named} ")
        assert library_place() == named
    for nothing in ("", "  "):
        monkeypatch.setenv("EVENCAST_LIBRARY", nothing)
        assert library_place() == str(library_dir())
    monkeypatch.delenv("EVENCAST_LIBRARY")
    assert library_place() == str(library_dir())


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="XDG folders are Linux's")
def test_library_and_log_follow_the_persons_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The XDG base directories decide, and asking creates nothing."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    assert library_dir() == tmp_path / "data" / "evencast"
    assert log_file() == tmp_path / "state" / "evencast" / "log" / "evencast.log"
    assert list(tmp_path.iterdir()) == []


def test_the_folder_library_is_loaded_only_when_asked() -> None:
    """Importing the module does not import platformdirs."""
    code = "import sys, evencast.store.places; sys.exit('platformdirs' in sys.modules)"
    found = os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}
    assert subprocess.run([sys.executable, "-c", code], check=False, env=found).returncode == 0
