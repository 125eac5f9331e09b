"""Numbers beyond anything on a set: slips of the pen, told before they are computed with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from evencast.errors import Problem
from evencast.lights.fixture import MOST_LIGHTS
from evencast.plan.checks.standing import everywhere, standing
from evencast.plan.kit import Kit
from evencast.plan.light import Minutes
from evencast.plan.place import entry, quoted
from evencast.plan.plan import Plan, Tolerances
from evencast.plan.scene import Weights

MOST_STOPS = 20.0
MOST_MIRED, MOST_DUV = 1000.0, 0.05
"""No colour with a CCT lies further from another, or further off the locus."""
MOST_WEIGHT = 1000.0
MOST_MINUTES = 10_000.0
MOST_COUNT = MOST_LIGHTS
MOST_OPENINGS = 1000
SMALLEST_MM, LARGEST_MM = 1.0, 100_000.0
LONGEST_STOCK_MM = 1_000_000.0
"""A kilometre: more than any roll."""
MOST_STOCK = 100_000
MINUTES_KEYS = tuple(Minutes.model_fields)


def check_stops(plan: Plan) -> list[Problem]:
    """What is said in stops lies between starlight and the sun."""
    said = [
        (f"{where}.{key}", stops)
        for where, light in everywhere(plan)
        for key, stops in (
            ("aim.stops", light.aim.stops),
            *((f"swap {quoted(swap.name)}.stops", swap.stops) for swap in light.swap),
        )
    ]
    said += [
        (f"look{entry(look.name, number=number)}.stops", look.stops)
        for number, look in enumerate(plan.look, start=1)
    ]
    said += [
        (f"spot{entry(spot.name, number=n)}.light{entry(light.name, number=m)}.stops", light.stops)
        for n, spot in enumerate(plan.spot, start=1)
        for m, light in enumerate(spot.light, start=1)
    ]
    return list(_beyond(said, -MOST_STOPS, MOST_STOPS, " stops"))


def check_prices(plan: Plan) -> list[Problem]:
    """Weights and minutes are such that one price can still be told beside another."""
    weights = [(f"weights.{key}", getattr(plan.weights, key)) for key in Weights.model_fields]
    minutes = [("minutes", plan.minutes)]
    minutes += [(f"{where}.minutes", light.minutes) for where, light in everywhere(plan)]
    said = [
        (f"{where}.{key}", getattr(each, key)) for where, each in minutes for key in MINUTES_KEYS
    ]
    return [
        *_beyond(weights, 0.0, MOST_WEIGHT, " sheets"),
        *_beyond(said, 0.0, MOST_MINUTES, " minutes"),
    ]


def check_tolerances(plan: Plan) -> list[Problem]:
    """What is allowed is not more than what is measured."""
    found: list[Problem] = []
    for role in Tolerances.model_fields:
        given, where = getattr(plan.tolerance, role), f"tolerance.{role}"
        mireds = [(f"{where}.mired", end) for end in given.mired or ()]
        found += _beyond(mireds, -MOST_MIRED, MOST_MIRED, " mired")
        found += _beyond([(f"{where}.duv", given.duv)], 0.0, MOST_DUV, " Duv")
        found += _beyond([(f"{where}.stops", given.stops)], 0.0, MOST_STOPS, " stops")
    return found


def check_sizes(plan: Plan) -> list[Problem]:
    """Openings are of a size that somebody covers, and lights of a number that is put up."""
    found: list[Problem] = []
    for where, light in everywhere(plan):
        found += _beyond([(f"{where}.count", light.count)], 1, MOST_COUNT)
        for number, opening in enumerate(light.aperture, start=1):
            at = f"{where}.aperture[{number}]"
            sides = [(f"{at}.width", opening.width_mm), (f"{at}.height", opening.height_mm)]
            found += _beyond(sides, SMALLEST_MM, LARGEST_MM, " mm")
            found += _beyond([(f"{at}.count", opening.count)], 1, MOST_COUNT)
    return found


def check_openings(plan: Plan) -> list[Problem]:
    """A light has not more openings, over all its fixtures, than anyone covers."""
    found = []
    for each in standing(plan):
        if each.wrote("count", "aperture"):
            openings = each.light.count * sum(one.count for one in each.light.aperture)
            if openings > MOST_OPENINGS:
                said = f"{openings}" if openings < 10**9 else "so many"
                found.append(
                    Problem(
                        "error",
                        f"{each.where}.aperture",
                        f"{said} openings are more than anyone covers on one light",
                        f"Write at most {MOST_OPENINGS}: its openings times its fixtures.",
                    )
                )
    return found


def check_stock_sizes(kit: Kit) -> list[Problem]:
    """Sheets and rolls are of a size that can be carried, and of a number that can be counted."""
    found: list[Problem] = []
    for number, each in enumerate(kit.filter, start=1):
        for place, stock in enumerate(each.stock, start=1):
            where = f"filter{entry(each.name, number=number)}.stock"
            where += entry(stock.id or "", number=place)
            sides = [(f"{where}.width", stock.width_mm), (f"{where}.length", stock.length_mm)]
            found += _beyond(sides, SMALLEST_MM, LONGEST_STOCK_MM, " mm")
            found += _beyond([(f"{where}.count", stock.count)], 0, MOST_STOCK)
    return found


def _beyond(
    said: Iterable[tuple[str, float | None]], low: float, high: float, unit: str = ""
) -> Iterator[Problem]:
    """An error for each that lies beyond; what cannot be read as a number is told elsewhere."""
    for where, value in said:
        if value is not None and (value < low or value > high):
            shown = f"{value:g}{unit}" if abs(value) < 1e15 else "so much"
            yield Problem(
                "error",
                where,
                f"{shown} is beyond anything met on a set",
                f"Write {low:g} to {high:g}{unit}.",
            )
