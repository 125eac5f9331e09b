"""An answer as JSON: exactly one object, no nan."""

from __future__ import annotations

import json
from dataclasses import asdict, is_dataclass


def dump(answer: object) -> str:
    """One JSON object.

    answer : a result dataclass or a dictionary
    """
    content = asdict(answer) if is_dataclass(answer) and not isinstance(answer, type) else answer
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)
