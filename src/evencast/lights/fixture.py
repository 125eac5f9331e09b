"""A light as it stands on set: "2 x 650 tungsten 3m flood"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal, TypedDict, cast

from evencast.errors import EvencastError
from evencast.lights.light import Light

Focus = Literal["flood", "spot"]

METRES = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "ft": 0.3048}
"""Units of length; the inch of 25.4 mm."""

NEAREST_M, FURTHEST_M = 0.01, 10_000.0
MOST_LIGHTS, MOST_WATTS = 1000, 100_000.0

CANDELA_PER_WATT: dict[Focus, tuple[float, float]] = {"flood": (10.0, 25.0), "spot": (43.0, 175.0)}
"""Candelas in the middle of the beam of tungsten Fresnels, for each watt: common practice, no
source. 150 W to 1 kW of several makes lie in it; open-faced lamps may not."""

SPOT_GAIN_STOPS = (2.0, 3.3)
"""What such a lamp gains from flood to spot: common practice, no source."""

USUAL_WATTS = (150.0, 1000.0)
"""The sizes that the range above was made from."""

_LENGTH = r"(?P<length>\d*\.?\d+)\s*(?P<unit>mm|cm|m|in|ft)"
_TAIL = re.compile(rf"\s+(?:{_LENGTH}|(?P<focus>flood|spot))$", re.IGNORECASE)
_HEAD = re.compile(
    r"(?:(?P<count>\d+)\s*x\s*)?(?:(?P<watts>\d*\.?\d+)(?!\s*k\b)(?:\s*(?P<kilo>k)?w\s+|\s+))?(?P<light>\D.*)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Fixture:
    """What a text says of a light and how it stands.

    light      : the light's name, with its dimming
    count      : how many of them shine on one place
    watts      : power of one; None where it is not said
    distance_m : None where it is not said
    focus      : None where it is not said
    dim_stops  : what its dimmer takes
    """

    light: str
    count: int = 1
    watts: float | None = None
    distance_m: float | None = None
    focus: Focus | None = None
    dim_stops: float = 0.0


class _Tail(TypedDict):
    distance_m: float | None
    focus: Focus | None


def parse_length_m(text: str, *, where: str) -> float:
    """A distance with its unit. [m]

    Raises  EvencastError where it has no unit or is zero
    """
    match = re.fullmatch(_LENGTH, text.strip(), re.IGNORECASE)
    if match is None:
        raise EvencastError(
            f'"{text}" is not a distance', where=where, remedy="Write 3m, 2.5m, 80cm or 10ft."
        )
    return _metres(match, where=where)


def _metres(match: re.Match[str], *, where: str) -> float:
    return within_reach(float(match["length"]) * METRES[match["unit"].casefold()], where=where)


def within_reach(length_m: float, *, where: str) -> float:
    """A distance from a light, of a size that is met on a set. [m]

    Raises  EvencastError for zero and for what lies beyond
    """
    if not length_m > 0:
        raise EvencastError(
            "a distance of 0 is inside the light",
            where=where,
            remedy="Give the distance from the light to the subject, for example 3m.",
        )
    if not NEAREST_M <= length_m <= FURTHEST_M:
        raise EvencastError(
            f"{length_m:g} m is no distance from a light to a subject",
            where=where,
            remedy=f"Write {NEAREST_M:g} to {FURTHEST_M:g} m.",
        )
    return length_m


def parse_fixture(text: str) -> Fixture:
    """What a text says of a light: count, watts, the light, distance and focus.

    text : "650 tungsten 3m flood", "2 x 1kW tungsten -1stop 10ft spot", or any light alone
    Raises  EvencastError for what is said twice and for zeros
    """
    rest = text.strip()
    found: dict[str, re.Match[str]] = {}
    while (tail := _TAIL.search(rest)) is not None:
        name = "focus" if tail["focus"] else "distance"
        if name in found:
            raise EvencastError(
                f"it says two things about the {name}", where=text, remedy="Leave one of them out."
            )
        found[name] = tail
        rest = rest[: tail.start()]
    head = _HEAD.fullmatch(rest)
    if head is None:
        return Fixture(rest, **_tail(found, text))
    dimmed = re.search(r"\s-(\d*\.?\d+)\s*stops?$", head["light"], re.IGNORECASE)
    dim_stops = float(dimmed[1]) if dimmed else 0.0
    return Fixture(
        head["light"],
        count=_count(head["count"], text),
        watts=_watts(head, text),
        dim_stops=dim_stops,
        **_tail(found, text),
    )


def typical_candela(fixture: Fixture, light: Light) -> tuple[float, float]:
    """The range of candelas that a Fresnel of those watts usually has, dimmed as it is. [cd]

    Without a focus it reaches from the least in flood to the most in spot.
    Raises  EvencastError without watts, and for lights of which no range is known
    """
    if light.kind != "tungsten" or light.fitting != "fixture":
        raise EvencastError(
            f"watts do not tell how bright {light.name} is",
            where=fixture.light,
            remedy="Give a reading: --lux, --fc, --ev or --stop with --at, or its --candela. "
            "Typical candelas are at hand for tungsten Fresnels alone.",
        )
    watts = fixture.watts or 0.0
    low, high = candela_per_watt(fixture.focus)
    left = 2.0**-fixture.dim_stops
    return low * watts * left, high * watts * left


def candela_per_watt(focus: Focus | None) -> tuple[float, float]:
    """The range of a focus; without one from the least in flood to the most in spot. [cd/W]"""
    if focus is not None:
        return CANDELA_PER_WATT[focus]
    return CANDELA_PER_WATT["flood"][0], CANDELA_PER_WATT["spot"][1]


def _tail(found: dict[str, re.Match[str]], text: str) -> _Tail:
    distance, focus = found.get("distance"), found.get("focus")
    return {
        "distance_m": None if distance is None else _metres(distance, where=text),
        "focus": None if focus is None else cast(Focus, focus["focus"].casefold()),
    }


def _count(text: str | None, where: str) -> int:
    return 1 if text is None else lamp_count(int(text), where=where)


def lamp_count(count: int, *, where: str) -> int:
    """How many lights shine on one place.

    Raises  EvencastError for none and for more than that
    """
    if not 1 <= count <= MOST_LIGHTS:
        said = f"{count} lights" if abs(count) < 10**9 else "so many lights"
        raise EvencastError(
            f"{said} are none that shine on one place",
            where=where,
            remedy=f"Write 1 to {MOST_LIGHTS}, as in 2 x 650; or leave it out for one.",
        )
    return count


def _watts(head: re.Match[str], where: str) -> float | None:
    if head["watts"] is None:
        return None
    return lamp_watts(float(head["watts"]) * (1000.0 if head["kilo"] else 1.0), where=where)


def lamp_watts(watts: float, *, where: str) -> float:
    """The watts of a lamp, of a size that stands on a set.

    Raises  EvencastError for those of none
    """
    if not 1.0 <= watts <= MOST_WATTS:
        raise EvencastError(
            f"a lamp of {watts:g} W is none that stands on a set",
            where=where,
            remedy=f"Write its watts, 1 to {MOST_WATTS:.0f}, such as 650.",
        )
    return watts
