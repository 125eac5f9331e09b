"""What is told of a spot: all lights that fall on it, together."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.results.choice import AimAnswer, ToleranceAnswer
from evencast.results.expose import Range
from evencast.results.light import Band, LightReading


@dataclass(frozen=True)
class LightAtSpot:
    """One light of the mix at a spot.

    share      : of all light there, 0 to 1
    stops      : against all light there; 0 is all of it
    lux        : what arrives of it behind sheets and scrims; None where it was read as a stop
    residual_mired, residual_duv : of this light alone against the spot's aim
    off_colour : whether that is outside the spot's tolerance
    pull_mired, pull_duv : what it moves the mix by, with it minus without it; None where nothing
                 else falls there, and in mired where a mix has no CCT
    band       : of pull_mired and pull_duv, over all that sheets, lights and levels may be; None
                 where all is known
    within     : whether its pull is inside the spot's tolerance; of a light that falls there
                 alone, whether it is itself
    away       : whether the mix would be nearer to its aim without it
    stops_less : how many stops less of it bring its pull inside; 0 where it is; None where it is
                 alone, where it pulls towards the aim, and where no dimming does
    advice     : what to do about it, in a few words
    """

    name: str
    role: str
    share: float
    stops: float
    lux: float | None
    residual_mired: float | None
    residual_duv: float | None
    off_colour: bool
    pull_mired: float | None
    pull_duv: float | None
    band: Band | None
    within: bool
    away: bool
    stops_less: float | None
    advice: str


@dataclass(frozen=True)
class SpotAnswer:
    """One spot: what falls there, what it looks like together, and how much it is.

    role     : whose tolerance holds: key, fill or background
    assumed  : True where the plan has no spots and this one was made up by role
    aim      : what the mix is held against: the balance, or what the brightest light of the
               spot's own role shall look like
    lights   : brightest first
    left_out : lights that reach it by the plan and whose level is not known
    mix      : the mix as one light, its middle; None where it is not known
    band     : of the mix's residual_mired, residual_duv, cct_k, mired and duv, over all that
               sheets, lights and levels may be; None where all is known
    within_tolerance : whether the middle is inside; None where the mix is not known
    blames   : the light without which the mix would be nearest to its aim, where it is outside
    lux      : all light there, least and most; None where any level of the plan is a stop
    level_stops : against the key side; None where that is not known
    f_number : the stop it asks for, least and most
    over_stops : that stop over (+) or under the one the camera is set to; None where it has none
    verdict  : all this in a sentence, to be read behind the spot's name
    """

    name: str
    role: str
    assumed: bool
    aim: AimAnswer
    tolerance: ToleranceAnswer
    lights: list[LightAtSpot]
    left_out: list[str]
    mix: LightReading | None
    residual_mired: float | None
    residual_duv: float | None
    band: Band | None
    within_tolerance: bool | None
    blames: str | None
    lux: Range | None
    level_stops: float | None
    f_number: Range | None
    over_stops: Range | None
    verdict: str
    notes: list[str]
