"""Plans and kits to check, made of little."""

from __future__ import annotations

from typing import Any

from evencast.errors import Problem
from evencast.plan.kit import Kit
from evencast.plan.plan import Plan


def plan(*lights: dict[str, Any], **keys: Any) -> Plan:
    plain = {"role": "key", "cct_k": 3200}
    needed = {
        "format": 1,
        "name": "job",
        "kit": "kit.toml",
        "mains_hz": 50,
        "camera": {"balance": keys.pop("balance", {"fixed_k": 4300})} | keys.pop("camera", {}),
        "light": [
            (plain if "builtin" not in light else {"role": "key"}) | light
            for light in lights or ({"name": "key"},)
        ],
    }
    return Plan.model_validate(needed | keys)


def kit(*filters: dict[str, Any]) -> Kit:
    plain = {"role": "correction", "generic": "full CTB"}
    return Kit.model_validate(
        {"format": 1, "name": "van", "filter": [plain | each for each in filters]}
    )


def night(*lights: dict[str, Any]) -> list[dict[str, Any]]:
    return [{"name": "night", "light": list(lights)}]


def places(problems: list[Problem]) -> list[tuple[str, str]]:
    return [(each.severity, each.where) for each in problems]
