"""Scenes of a few lights whose colours and levels are known, for what is asked of spots."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from evencast.actions.doubt import looks
from evencast.actions.spots import Taken, spots
from evencast.actions.taking import taking
from evencast.colour import white_uv
from evencast.filters import Filter
from evencast.lights import Light, of_kelvin
from evencast.lights.level import Level
from evencast.plan.plan import Plan
from evencast.results.spot import LightAtSpot, SpotAnswer
from evencast.solver import Aim, aim_at_uv

CAMERA = taking(ei=800, shutter="180", fps=25, mains=50, constant=None)


@dataclass(frozen=True, slots=True)
class Lit:
    """A light of a scene; without a level it is not known how bright it is."""

    role: str
    light: Light
    level: Level | None = None
    taken: Taken | None = None
    filters: Sequence[Filter] = field(default=())


def white_light(role: str, cct_k: float, level_lux: float | None, **more: Any) -> Lit:
    """A light that is white of a temperature, of a known level in lux."""
    level = None if level_lux is None else Level(level_lux, level_lux, "lux")
    return Lit(role, of_kelvin(cct_k), level, **more)


def balanced(cct_k: float) -> Aim:
    """A camera balance."""
    return aim_at_uv(f"{cct_k:g}K", white_uv(cct_k))


def plan_of(lights: Mapping[str, Lit], **more: Any) -> Plan:
    """A plan with these lights; spots, tolerances and the like as in a document."""
    camera = {"balance": {"fixed_k": 5500.0}}
    entries = [{"name": name, "role": each.role, "cct_k": 5500.0} for name, each in lights.items()]
    plan = {"format": 1, "name": "x", "kit": "kit.toml", "mains_hz": 50, "camera": camera}
    return Plan.model_validate(plan | {"light": entries} | more)


def told(
    lights: Mapping[str, Lit],
    *,
    balance: Aim | None = None,
    shot: float | None = None,
    camera: Any = CAMERA,
    aims: Mapping[str, Aim] | None = None,
    **plan: Any,
) -> dict[str, SpotAnswer]:
    """What is told of each spot, by its name."""
    places = spots(
        plan_of(lights, **plan),
        {name: looks(each.light, each.filters) for name, each in lights.items()},
        {name: each.level for name, each in lights.items() if each.level is not None},
        {name: each.taken for name, each in lights.items() if each.taken is not None},
        camera,
    )
    answers = places.answers(balance or balanced(5500.0), shot, aims=aims or {})
    return {each.name: each for each in answers}


def light_at(answer: SpotAnswer, name: str) -> LightAtSpot:
    """One light of a spot."""
    return next(each for each in answer.lights if each.name == name)
