"""Calls the command line and keeps what it left; documents to call it with."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from evencast.cli import main

ANSWERED, ERRORS_IN_DOCUMENT, BAD_CALL = 0, 1, 2
SOURCES = Path(__file__).resolve().parents[3] / "src"

KIT = """format = 1
name = "two sheets"

[[filter]]
name = "half CTB"
role = "correction"
generic = "half CTB"

[[filter]]
name = "frost"
role = "diffusion"
generic = "light frost"
"""

FROST_ONLY = """format = 1
name = "frost only"

[[filter]]
name = "frost"
role = "diffusion"
generic = "light frost"
"""

PLAN = """format = 1
name = "shed"
kit = "kit.toml"
mains_hz = 50

[camera]
balance = { fixed_k = 4300 }

[[light]]
name = "lamp"
role = "key"
builtin = "tungsten 3200 K"
"""


@dataclass(frozen=True, slots=True)
class Ran:
    """What one call left."""

    code: int
    out: str
    err: str

    @property
    def answer(self) -> dict[str, Any]:
        """The one JSON object on standard output."""
        content = json.loads(self.out, parse_constant=_no_constant)
        assert isinstance(content, dict)
        return content

    @property
    def error(self) -> dict[str, str]:
        """The error in it: three texts, none of them empty."""
        error: dict[str, str] = self.answer["error"]
        assert list(error) == ["what", "where", "remedy"]
        assert all(isinstance(each, str) and each for each in error.values())
        return error


def _no_constant(name: str) -> None:
    raise AssertionError(f"{name} is no JSON")


def run(*arguments: str) -> Ran:
    """One call in this process; anything but an exit is a traceback and fails the test."""
    result = CliRunner().invoke(main, list(arguments), catch_exceptions=False)
    return Ran(result.exit_code, result.stdout, result.stderr)


def spectrum(path: str, *, only_nm: int | None = None, value: str = "0.5") -> None:
    """A spectrum file, flat or a single line."""
    rows = (f"{nm},{value if only_nm in (None, nm) else 0}" for nm in range(380, 785, 5))
    Path(path).write_text("\n".join(rows), "utf-8")
