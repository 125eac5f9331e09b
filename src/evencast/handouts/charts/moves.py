"""Every light before and after, against the balance: the numbers of the chart, and in words."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.handouts.charts.letters import isolated
from evencast.handouts.charts.values import Ends, Table, Tolerance, say_band
from evencast.quantities import is_offset, say_left


@dataclass(frozen=True, slots=True)
class Colour:
    """A colour beside the balance.

    mired : + warmer; None without a colour temperature
    duv   : + greener
    fill  : how it looks at that balance, "#rrggbb"
    """

    mired: float | None
    duv: float | None
    fill: str


@dataclass(frozen=True, slots=True)
class LightMove:
    """One light of a scene.

    number      : of its row
    bare, hung  : as the lamp is, and as it hangs; None where it is switched off
    changed     : whether anything hangs in front of it or is set
    band_mired, band_duv : of it as it hangs, beside the balance; None where all is known
    aim_mired, aim_duv : of its aim, beside the balance
    tolerance   : about its aim
    inside      : whether it comes out as it shall
    """

    number: int
    name: str
    bare: Colour
    hung: Colour | None
    changed: bool
    band_mired: Ends | None
    band_duv: Ends | None
    aim_mired: float | None
    aim_duv: float
    tolerance: Tolerance
    inside: bool


@dataclass(frozen=True, slots=True)
class LightsChart:
    """Every light of a scene against one balance.

    title     : over the picture
    balance   : as the person wrote it
    balance_k : its colour temperature
    """

    title: str
    balance: str
    balance_k: float
    lights: tuple[LightMove, ...]


def rows(chart: LightsChart) -> Table:
    """The chart as a table."""
    return Table(
        headers=("", "Light", "Bare", "As it hangs", "Band", "Tolerance", "Inside"),
        rows=tuple(
            (
                str(each.number),
                isolated(each.name),
                say(each.bare),
                say_hung(each),
                say_band(each.band_mired, each.band_duv),
                f"{each.tolerance.role}: {each.tolerance.say()}" + _say_aim(each),
                "-" if each.hung is None else ("yes" if each.inside else "no"),
            )
            for each in chart.lights
        ),
    )


def say(colour: Colour) -> str:
    """A colour beside the balance in words."""
    return say_left(colour.mired, colour.duv)


def say_hung(each: LightMove) -> str:
    """How a light hangs, in words."""
    if each.hung is None:
        return "switched off"
    return say(each.hung) if each.changed else "as it is"


def _say_aim(each: LightMove) -> str:
    if each.aim_mired is None:
        return ", about an aim without a colour temperature"
    if not is_offset(each.aim_mired, each.aim_duv):
        return ""
    return f", about {say_left(each.aim_mired, each.aim_duv)}"


def described(chart: LightsChart) -> str:
    """The chart in sentences."""
    told = [
        f"{each.number} {isolated(each.name)}: bare {say(each.bare)}; {say_hung(each)}"
        for each in chart.lights
    ]
    return f"Against {chart.balance}. {'. '.join(told) or 'No lights'}."
