"""Charts of lights and sheets by themselves, without a plan."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.actions.charts_colour import Shown, prime, say_colour, shown_beside
from evencast.actions.doubt import Looks, ends, looks, middle
from evencast.actions.kit import LoadedKit
from evencast.actions.reading import rounded
from evencast.colour import low_middle_high, xyz
from evencast.errors import EvencastError
from evencast.filters import Filter, stack_members
from evencast.handouts.charts.colours import ColoursChart, PlacedLight
from evencast.handouts.charts.losses import LossesChart, SheetPoint
from evencast.handouts.charts.spectra import MOST_CURVES, Curve, SpectraChart
from evencast.handouts.charts.values import Ends
from evencast.lights import Light, light_of
from evencast.quantities import Floats, listed
from evencast.spectra import GRID_NM

MOST_LIGHTS = 60
_DIGITS = 5


def power_chart(light: Light, filters: Sequence[Filter], shown: Shown) -> SpectraChart:
    """A light bare and through a stack, on one scale: what is between them is lost.

    Each member is taken with as much light when bare, so that the band is of the colour alone.
    """
    bare = light.members / xyz(light.members)[:, 1:2]
    scale = float(low_middle_high(bare.T)[1].max())
    stack = " + ".join(each.name for each in filters)
    curves = [curve_of(light.name, bare / scale, shown(looks(light, []).reading))]
    if filters:
        through = bare / scale * stack_members(filters)
        fill = shown(looks(light, filters).reading)
        curves.append(curve_of(f"through {stack}", through, fill))
    return SpectraChart(
        title=f"{light.name} through {stack}" if filters else light.name,
        quantity="power",
        wavelengths_nm=tuple(float(nm) for nm in GRID_NM),
        curves=tuple(curves),
        scale=f"Relative: {light.name}, bare, is 1 at its peak.",
    )


def transmittance_chart(light: Light, filters: Sequence[Filter], shown: Shown) -> SpectraChart:
    """What sheets let through, each alone and all together."""
    if not filters:
        raise EvencastError(
            "there is no sheet whose transmittance could be drawn",
            where="--of transmittance",
            remedy="Name at least one FILTER, or leave --of out for the light's power.",
        )
    each_one = {each.name: each for each in filters}
    curves = []
    if len(filters) > 1:
        name = "all together: " + " + ".join(each.name for each in filters)
        curves.append(curve_of(name, stack_members(filters), shown(looks(light, filters).reading)))
    curves += [
        curve_of(each.name, each.members, shown(looks(light, [each]).reading))
        for each in list(each_one.values())[: MOST_CURVES - len(curves)]
    ]
    return SpectraChart(
        title=f"What {listed(list(each_one))} let through"
        if len(each_one) > 1
        else f"What {filters[0].name} lets through",
        quantity="transmittance",
        wavelengths_nm=tuple(float(nm) for nm in GRID_NM),
        curves=tuple(curves),
        scale="Transmittance from 0 to 1, surface loss included.",
    )


def curve_of(name: str, members: Floats, fill: str) -> Curve:
    """A spectrum by all that it may be, [(n, 81)]: the middle, and the band where n is not 1."""
    low, at, high = low_middle_high(members.T)
    known = len(members) == 1
    return Curve(
        name=name,
        values=_rounded(at),
        low=None if known else _rounded(low),
        high=None if known else _rounded(high),
        fill=fill,
    )


def _rounded(values: Floats) -> tuple[float, ...]:
    return tuple(round(float(each), _DIGITS) + 0.0 for each in values)


def losses_chart(kit: LoadedKit, light: Light | None, shown: Shown | None) -> LossesChart:
    """What every filter of a kit costs and does.

    light : what all are in front of; None for the white that each is named for
    shown : at which balance; None for one at which what is behind each filter is neutral
    """
    return LossesChart(
        title=f"{kit.name}: what each filter costs and does",
        on=_on(kit, light),
        sheets=tuple(
            _sheet(number, each, looks(light or _own_white(each), [each]), shown)
            for number, each in enumerate(kit.filters, 1)
        ),
    )


def _own_white(each: Filter) -> Light:
    return light_of(f"{each.on_k:g}K")


def _on(kit: LoadedKit, light: Light | None) -> str:
    if light is not None:
        return f"In front of {light.name}."
    whites = sorted({each.on_k for each in kit.filters})
    if not whites:
        return "The kit has no filter."
    told = listed([f"{each:g} K" for each in whites], "or")
    return f"Each in front of the white it is named for: {told}."


def _sheet(number: int, each: Filter, seen: Looks, shown: Shown | None) -> SheetPoint:
    loss_stops = rounded(middle(seen.loss_stops), 4)
    band_stops: Ends | None = None if seen.is_known else ends(seen.loss_stops, 4)
    return SheetPoint(
        number=number,
        name=each.name,
        role=each.role,
        shift_mired=rounded(middle(seen.shift_mired), 3),
        shift_duv=rounded(middle(seen.shift_duv), 6),
        loss_stops=loss_stops,
        band_mired=None if seen.is_known else ends(seen.shift_mired, 3),
        band_stops=each.loss_range_stops or band_stops,
        fill=(shown or shown_beside(seen.light.power))(seen.reading),
    )


def lights_in_uv(
    lights: Sequence[Light], shown: Shown, *, balance: tuple[float, float], told: str
) -> ColoursChart:
    """Where lights lie in u', v', bare.

    balance : x, y of the white that comes out neutral
    told    : how it is said
    """
    if len(lights) > MOST_LIGHTS:
        raise EvencastError(
            f"{len(lights)} lights are too many for one picture",
            where="LIGHT",
            remedy=f"Name at most {MOST_LIGHTS}.",
        )
    seen = [looks(each, []).reading for each in lights]
    return ColoursChart(
        title="Lights in u', v'",
        lights=tuple(
            PlacedLight(
                number=number,
                name=light.name,
                bare=prime(reading.x, reading.y),
                hung=None,
                bare_fill=shown(reading),
                fill=shown(reading),
                told=say_colour(reading),
            )
            for number, (light, reading) in enumerate(zip(lights, seen, strict=True), 1)
        ),
        balance=prime(*balance),
        balance_told=told,
        tolerances=(),
    )
