"""An answer as JSON: exactly one object, no nan."""

from __future__ import annotations

import json
from dataclasses import asdict, is_dataclass


def dump(answer: object) -> str:
    """One JSON object.

    answer : a result dataclass, or a dictionary that may hold such
    """
    return json.dumps(answer, default=_plain, indent=2, ensure_ascii=False, allow_nan=False)


def _plain(value: object) -> object:
    if is_dataclass(value) and not isinstance(value, type):
        return asdict(value)
    raise TypeError(f"{type(value).__name__} is no part of an answer")
