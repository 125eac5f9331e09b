from __future__ import annotations

import json
from typing import Any

import pytest

from tests.golden.commands import COMMANDS, HERE, answers

NOW = answers()


def differences(kept: Any, now: Any, place: str = "") -> list[str]:
    """Where two answers differ; numbers may differ in the last digits that are printed."""
    if isinstance(kept, dict) and isinstance(now, dict):
        found = [f"{place}.{key}: gone" for key in kept.keys() - now.keys()]
        found += [f"{place}.{key}: new" for key in now.keys() - kept.keys()]
        both = [key for key in kept if key in now]
        return found + [
            d for key in both for d in differences(kept[key], now[key], f"{place}.{key}")
        ]
    if isinstance(kept, list) and isinstance(now, list) and len(kept) == len(now):
        pairs = enumerate(zip(kept, now, strict=True))
        return [d for i, (a, b) in pairs for d in differences(a, b, f"{place}[{i}]")]
    if isinstance(kept, float) and isinstance(now, float):
        return [] if now == pytest.approx(kept, rel=2e-5, abs=2e-6) else [f"{place}: {kept} {now}"]
    return [] if kept == now else [f"{place}: {kept!r} {now!r}"]


@pytest.mark.parametrize("name", COMMANDS)
def test_the_answer_is_as_it_was(name: str) -> None:
    """Names, kinds and values of every command's JSON: the contract other scripts rest on."""
    kept = json.loads((HERE / f"{name}.json").read_text("utf-8"))
    assert differences(kept, NOW[name]) == []


def test_a_changed_name_or_value_is_seen() -> None:
    """The comparison itself."""
    assert differences({"a": 1.0}, {"b": 1.0}) == [".a: gone", ".b: new"]
    assert differences({"a": [1.0]}, {"a": [1.001]}) == [".a[0]: 1.0 1.001"]
    assert differences({"a": None}, {"a": 0.0}) == [".a: None 0.0"]
