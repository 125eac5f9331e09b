"""The commands whose JSON answers are kept, and how the kept files are remade.

`python -m tests.golden.commands` writes them anew: look at the difference before you keep it.
"""

from __future__ import annotations

import json
import os
import shlex
import tempfile
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from evencast.cli import main

HERE = Path(__file__).resolve().parent

COMMANDS = {
    "light": 'light "cool white tube FL2"',
    "light_no_cct": "light 0.csv",
    "light_reading": "light 5400K+0.0065",
    "through": 'through "warm white tube FL4" "full CTB"',
    "through_no_cct": 'through D65 "double CTB" "full CTB"',
    "match": "match FL2 --aim 3200K --role fill --most 2",
    "match_leave": "match tungsten --aim 3200K --most 1",
    "match_unreached": 'match "low-pressure sodium" --aim 5600K --most 1 --layers 2',
    "expose": 'expose "650 tungsten 3m flood" --through "full CTB" --want f/8',
    "ratio": "ratio 400lx 4:1",
    "load": "load 2x650 2x100 200 --volts 120 --breaker 15",
    "demo": "demo",
    "solve": "solve bindery/plan.toml",
    "lights": "lights",
    "filters": "filters",
    "filters_of_a_kit": "filters --kit bindery/kit.toml",
    "schema": "schema",
    "schema_kit": "schema kit",
    "where": "where",
    "error": "light FL99",
    "error_in_documents": "solve broken.toml",
}

NARROW_GREEN = "\n".join(f"{nm},{int(520 <= nm <= 540)}" for nm in range(380, 785, 5))
BROKEN = 'format = 1\nname = "x"\nkit = "none.toml"\nmains_hz = 55\n[[light]]\nname = "a"\n'


def answers() -> dict[str, Any]:
    """What every command answers now, in a folder of its own."""
    before = Path.cwd()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        try:
            CliRunner().invoke(main, ["demo", "--to", "bindery"])
            Path("0.csv").write_text(NARROW_GREEN, "utf-8")
            Path("broken.toml").write_text(BROKEN, "utf-8")
            return {name: _answer(command) for name, command in COMMANDS.items()}
        finally:
            os.chdir(before)


def _answer(command: str) -> Any:
    ran = CliRunner().invoke(main, [*shlex.split(command), "--json"])
    answer = json.loads(ran.stdout)
    if command == "where":
        answer = dict.fromkeys(answer, "differs from machine to machine")
    return {"exit_code": ran.exit_code, "answer": answer}


if __name__ == "__main__":
    for name, answer in answers().items():
        text = json.dumps(answer, indent=1, ensure_ascii=False) + "\n"
        (HERE / f"{name}.json").write_text(text, "utf-8", newline="\n")
