"""What is to be said of a spot, in one sentence."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evencast.plan.tolerance import Allowed
from evencast.quantities import say_duv, say_mired, say_stops
from evencast.results.light import Band
from evencast.results.spot import LightAtSpot

MOST_OF_IT = 0.5
"""A light that makes half of a spot is what the spot is lit by, whatever its role."""

CORRECT = "correct it"


@dataclass(frozen=True, slots=True)
class Blame:
    """The light without which a spot would be nearest to its aim.

    lights_it  : whether the spot is lit by it, so that less of it is no cure
    stops_less : how many stops less of it do, or at least bring its pull inside; None without
    is_enough  : whether the spot is then inside
    """

    light: LightAtSpot
    lights_it: bool = False
    stops_less: float | None = None
    is_enough: bool = False


def verdict(
    residual: tuple[float | None, float | None],
    band: Band | None,
    allowed: Allowed,
    *,
    is_inside: bool,
    blame: Blame | None,
    left_out: Sequence[str],
) -> str:
    """The sentence of a spot whose mix is known."""
    said = f"reads {_colour(*residual)}: {'inside' if is_inside else 'outside'} {allowed.say()}"
    if band is not None and _is_unsure(band, allowed, is_inside=is_inside):
        said += f", not sure: {_range(band)}"
    if blame is not None:
        said += f"; {_blamed(blame)}"
    elif not is_inside:
        said += "; no single light is to blame"
    if left_out:
        said += f"; without {', '.join(left_out)}, whose level is not known"
    return said


def unknown(left_out: Sequence[str]) -> str:
    """The sentence of a spot whose mix is not known."""
    if not left_out:
        return "not known: no light falls here"
    of = "the level of" if len(left_out) == 1 else "the levels of"
    return f"not known: {of} {' and '.join(left_out)} must be read first"


def cure(blame: Blame) -> str:
    """What to do about the light that is to blame."""
    if blame.lights_it:
        return CORRECT
    if blame.stops_less is None:
        return "correct it or switch it off, no dimming will do"
    if not blame.is_enough:
        return f"{_less(blame.stops_less)} would bring that inside, but not the spot"
    return f"{_less(blame.stops_less)} would do"


def advice(
    *, within: bool, away: bool, is_off: bool, lights_it: bool, stops_less: float | None
) -> str:
    """What to do about one light of a mix.

    is_off    : whether it alone is outside the spot's tolerance
    lights_it : whether the spot is lit by it, so that less of it is no cure
    """
    if lights_it and is_off:
        return CORRECT
    if within:
        return "leave it"
    if not away:
        return "leave it, it pulls towards the aim"
    if stops_less is None:
        return "correct it or switch it off, no dimming will do"
    return f"{_less(stops_less)} would bring that inside"


def _pulls(light: LightAtSpot) -> str:
    """What a light does to the mix: "pulls it 32 mired warm, a trace magenta"."""
    if light.pull_mired is None:
        return "leaves it without a colour temperature"
    return f"pulls it {_colour(light.pull_mired, light.pull_duv)}"


def _less(stops: float) -> str:
    """Stops less as a cure, in thirds and never too few: "2 1/3 stops less of it"."""
    return f"{say_stops(math.ceil(3.0 * stops - 1e-6) / 3.0)} less of it"


def _colour(mired: float | None, duv: float | None) -> str:
    if mired is None or duv is None:
        return "no colour temperature"
    return f"{say_mired(mired)}, {say_duv(duv)}"


def _blamed(blame: Blame) -> str:
    light = blame.light
    if blame.lights_it:
        alone = _colour(light.residual_mired, light.residual_duv)
        return f"{light.name}, which lights it, is {alone} by itself: {cure(blame)}"
    return f"{light.name} {_pulls(light)}: {cure(blame)}"


def _is_unsure(band: Band, allowed: Allowed, *, is_inside: bool) -> bool:
    """Whether some of what the mix may be is on the other side of the tolerance."""
    (cool, warm), (magenta, green) = band["residual_mired"], band["residual_duv"]
    if cool is None or warm is None or magenta is None or green is None:
        return is_inside
    if is_inside:
        is_held = cool >= allowed.mired_low and warm <= allowed.mired_high
        return not (is_held and -allowed.duv <= magenta and green <= allowed.duv)
    is_met = cool <= allowed.mired_high and warm >= allowed.mired_low
    return is_met and magenta <= allowed.duv and green >= -allowed.duv


def _range(band: Band) -> str:
    """The ends of a band in words: "2 mired cool to 15 mired warm", "4 to 20 mired warm, neutral
    to a little green"."""
    (cool, warm), (magenta, green) = band["residual_mired"], band["residual_duv"]
    if cool is None or warm is None or magenta is None or green is None:
        return "it may have no colour temperature"
    first, last = say_mired(cool), say_mired(warm)
    if first.split()[1:] == last.split()[1:]:
        first = first.split()[0]
    side, other = say_duv(magenta), say_duv(green)
    return f"{first} to {last}, " + (side if side == other else f"{side} to {other}")
