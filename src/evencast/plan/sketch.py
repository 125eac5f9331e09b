"""What still makes sense of a document with errors, so that its other rules run all the same.

A light with a misspelt role still has a name that another light may refer to. Whatever
cannot be read is left out, a name that is missing is empty; a sketch is checked and thrown
away, never computed with.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import ValidationError

from evencast.plan.kit import Kit, KitFilter, Stock
from evencast.plan.light import Adjustable, Aim, Light, LightKeys
from evencast.plan.part import Part
from evencast.plan.plan import Balance, Camera, Plan
from evencast.plan.setup import Setup, SetupLight

P = TypeVar("P", bound=Part)
L = TypeVar("L", bound=LightKeys)


def sketched_plan(data: Mapping[str, Any]) -> Plan:
    """As much of a plan as its cross-checks read."""
    return Plan.model_construct(
        camera=Camera.model_construct(
            balance=_sound(Balance, _table(data.get("camera")).get("balance"))
            or Balance.model_construct()
        ),
        light=tuple(_light(Light, each) for each in _tables(data.get("light"))),
        setup=tuple(
            Setup.model_construct(
                name=_text(each.get("name")) or "",
                light=tuple(_light(SetupLight, light) for light in _tables(each.get("light"))),
            )
            for each in _tables(data.get("setup"))
        ),
    )


def sketched_kit(data: Mapping[str, Any]) -> Kit:
    """As much of a kit as its cross-checks read."""
    return Kit.model_construct(
        filter=tuple(
            _sound(KitFilter, each)
            or KitFilter.model_construct(
                name=_text(each.get("name")) or "",
                generic=_text(each.get("generic")),
                stock=tuple(
                    Stock.model_construct(id=_text(stock.get("id")))
                    for stock in _tables(each.get("stock"))
                ),
            )
            for each in _tables(data.get("filter"))
        )
    )


def _light(kind: type[L], data: Mapping[str, Any]) -> L:
    sound = _sound(kind, data)
    if sound is not None:
        return sound
    return kind.model_construct(
        name=_text(data.get("name")) or "",
        builtin=_text(data.get("builtin")),
        aim=Aim.model_construct(like=_text(_table(data.get("aim")).get("like"))),
        adjustable=_sound(Adjustable, data.get("adjustable")),
    )


def _sound(kind: type[P], data: object) -> P | None:
    try:
        return kind.model_validate(data)
    except ValidationError:
        return None


def _table(value: object) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _tables(value: object) -> list[Mapping[str, Any]]:
    """The tables of a list; one table with single brackets counts as a list of one."""
    entries = value if isinstance(value, list) else [value]
    return [each for each in entries if isinstance(each, Mapping)]


def _text(value: object) -> str | None:
    return value if isinstance(value, str) and value.strip() else None
