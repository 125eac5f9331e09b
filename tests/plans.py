"""Writes small plans for the tests: invented lights only."""

from __future__ import annotations

from pathlib import Path

from evencast.actions.planned import LoadedPlan, load_plan

KIT = """format = 1
name = "a few sheets"
"""
SHEETS = {
    "full CTB": "correction",
    "half CTB": "correction",
    "quarter CTB": "correction",
    "full CTO": "correction",
    "ND 0.3": "ND",
    "ND 0.6": "ND",
    "light frost": "diffusion",
    "heavy frost": "diffusion",
}


def write_kit(folder: Path, sheets: dict[str, str] = SHEETS) -> None:
    """A kit of generic sheets, by name and role."""
    entries = [
        f'[[filter]]\nname = "{name}"\nrole = "{role}"\ngeneric = "{name}"\n'
        for name, role in sheets.items()
    ]
    (folder / "kit.toml").write_text(KIT + "".join(entries), encoding="utf-8")


def write_plan(folder: Path, lights: str, *, camera: str = "", mains_hz: int = 60) -> Path:
    """A plan of those lights beside a small kit.

    camera : further keys of the camera, one to a line
    """
    write_kit(folder)
    path = folder / "plan.toml"
    text = (
        f'format = 1\nname = "levels"\nkit = "kit.toml"\nmains_hz = {mains_hz}\n'
        f"[camera]\nbalance = {{ fixed_k = 5600 }}\n{camera}\n{lights}"
    )
    path.write_text(text, encoding="utf-8")
    return path


def light(name: str, keys: str, *, role: str = "key", builtin: str = "tungsten 3200 K") -> str:
    """One light of a plan."""
    return f'[[light]]\nname = "{name}"\nrole = "{role}"\nbuiltin = "{builtin}"\n{keys}\n'


def loaded(folder: Path, lights: str, *, camera: str = "", mains_hz: int = 60) -> LoadedPlan:
    """A plan of those lights, loaded."""
    return load_plan(write_plan(folder, lights, camera=camera, mains_hz=mains_hz))
