"""What is said on a set, typed: the line, the name it gets and the keys, in the demo's plan."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from evencast import tables
from evencast.actions.editing.lights import add_light
from evencast.actions.entry import typed_light

PLAN = tables.demo_documents()["plan.toml"]

TABLE = Path(__file__).with_name("typed_lines.toml").read_text("utf-8")
LINES: list[tuple[str, str, dict[str, Any]]] = [
    (each["typed"], each["name"], each["keys"]) for each in tomllib.loads(TABLE)["line"]
]


@pytest.mark.parametrize(("line", "name", "keys"), LINES, ids=[each[0] for each in LINES])
def test_a_line_becomes_the_keys_of_a_light(line: str, name: str, keys: dict[str, Any]) -> None:
    """Nothing of it is left over, nothing is asked, and the plan takes the light."""
    entry = typed_light(line, plan=PLAN)
    assert (entry.name, entry.keys) == (name, keys)
    assert (entry.not_understood, entry.asks) == ([], [])
    edited = add_light(PLAN, entry)
    assert f'name = "{name}"' in edited.text
    assert edited.said.startswith(f"{name} added: ")


def test_the_table_is_long_enough_to_mean_something() -> None:
    """Sixty lines and more, each another."""
    assert len({line for line, _, _ in LINES}) == len(LINES) >= 60
