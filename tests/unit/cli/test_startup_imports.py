"""Quick questions must not load what only long ones need."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

SOURCES = Path(__file__).resolve().parents[3] / "src"
HEAVY = (
    *("scipy", "pydantic", "rich", "tomlkit", "colour", "platformdirs", "xml", "pygdtf", "zipfile"),
    *("sqlalchemy", "alembic", "sqlite3", "psycopg"),
)

CHILD = f"""
import sys
from evencast.cli import main
try:
    main(sys.argv[1:])
except SystemExit as end:
    assert end.code == 0, end.code
loaded = {{name.partition(".")[0] for name in sys.modules}}
print("loaded:", *sorted(loaded & set({HEAVY!r})))
"""


def loaded_by(*arguments: str) -> list[str]:
    """Those of the heavy packages that a command leaves in `sys.modules`."""
    done = subprocess.run(
        [sys.executable, "-c", CHILD, *arguments],
        env=os.environ | {"PYTHONPATH": str(SOURCES)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()[-1].split()[1:]


@pytest.mark.parametrize(
    "arguments",
    [
        ("light", "FL2"),
        ("light", "FL2", "--json"),
        ("through", "tungsten", "full CTB"),
        ("through", "tungsten", "full CTB", "--json"),
    ],
)
def test_light_and_through_load_nothing_heavy(arguments: tuple[str, ...]) -> None:
    """No scipy, pydantic, rich, tomlkit, platformdirs, xml, and never colour-science."""
    assert loaded_by(*arguments) == []


def test_this_test_sees_what_is_loaded() -> None:
    """A command with a table does load one of them."""
    assert "rich" in loaded_by("match", "tungsten", "--aim", "5600K", "--layers", "1")
