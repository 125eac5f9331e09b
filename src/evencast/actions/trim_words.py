"""The words of a trim: what moved, why this change, what comes next, what to know."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evencast.actions.cautions import WHITE_ALONE
from evencast.actions.doubt import light_notes
from evencast.actions.hanging import FILAMENTS, Hanging
from evencast.actions.reading import rounded
from evencast.actions.stage import Said, Stage
from evencast.actions.standing import MET_STOPS
from evencast.actions.trim_bench import Bench, Colour, State, Trim
from evencast.actions.trim_colour import HALF_GRADE_DUV, HALF_GRADE_MIRED, under_half_a_grade
from evencast.actions.trim_level import is_met, middle
from evencast.camera.flicker import UNSEEN_STOPS
from evencast.colour import mired_duv, uv
from evencast.lights import Light
from evencast.lights.reading import CAMERA_DUV, CAMERA_MIRED
from evencast.quantities import kelvin, say_left, say_stops

SEEN_MIRED, SEEN_DUV = 5.0, 0.0015
"""What is seen side by side: nearer than that nothing is called a change. Common practice, no
source."""


@dataclass(frozen=True, slots=True)
class Moved:
    """How the bare light differs from what it was before.

    text  : in a sentence; "" where no colour was read
    since : what it is compared with
    """

    text: str = ""
    mired: float | None = None
    duv: float | None = None
    since: str | None = None


def moved(light: Hanging, now: Light, said: Said, earlier: Said | None) -> Moved:
    """What became of the bare light: since it was read before, else beside what the plan has."""
    if said.colour is None:
        return Moved()
    before, then_said = light.light, "in the plan"
    since = "beside what the plan takes it for"
    if earlier is not None and earlier.colour is not None:
        before = light.explained_by(earlier.colour)
        at = ", ".join(each for each in (earlier.time, earlier.sky) if each)
        since = f"since it was read before ({at})" if at else "since it was read before"
        then_said = "then"
    (was_mired, was_duv), (is_mired, is_duv) = (_bare(each) for each in (before, now))
    by_mired, by_duv = is_mired - was_mired, is_duv - was_duv
    return Moved(
        text=_moved_text(light, was_mired, is_mired, by_duv, since, then_said),
        mired=rounded(by_mired, 3),
        duv=rounded(by_duv, 6),
        since=since,
    )


def why(bench: Bench, before: State, of_colour: Trim, of_level: Trim, moved: Moved) -> str:
    """What moved, what is left of it, and why this change."""
    sentences = [moved.text] if moved.text else []
    colour = before.colour
    if colour is not None:
        where = "inside" if colour.within else "outside"
        sentences.append(f"As it hangs it is {_said(colour)}: {where} {bench.allowed.say()}.")
        sentences.append(_of_colour(colour, of_colour))
    if before.over_stops is not None:
        sentences.append(_of_level(bench, before, of_colour, of_level))
    return " ".join(each for each in sentences if each)


def then(bench: Bench, before: State, of_colour: Trim, of_level: Trim) -> str | None:
    """What comes after the one change; None where nothing is left to do."""
    if of_colour.move == "dial":
        return "Read colour and level again at that setting: green and output follow the dial."
    if of_colour.move != "leave" and of_level.move != "leave":
        return f"The level is next: {of_level.text}, once this is read again."
    if not is_met(of_level.after.over_stops, bench.allowed):
        unknown = (
            "" if before.distance_m else " Its distance is not written: with it, moving counts."
        )
        return f"The level is still off: another lamp, place, or stop on the camera.{unknown}"
    lost = _lost(before, of_colour)
    if before.over_stops is None and abs(lost) >= MET_STOPS:
        return (
            f"It {'takes' if lost > 0 else 'gives back'} {say_stops(lost)}: read its level again."
        )
    return None


def notes(stage: Stage, light: Hanging, said: Said, on_level: str | None) -> list[str]:
    """What the answer rests on."""
    found = []
    if light.known_by is None:
        found.append("No set-up says what hangs on it: taken as bare.")
    elif light.known_by == "planned":
        found.append("Nothing is written as rigged: taken to hang as planned.")
    if said.colour is not None and said.colour.duv is None:
        found.append("No Duv was read: taken as it was computed, so green is not judged anew.")
    if said.known_by == "camera":
        found.append(
            f"Held against a colour that this camera did not read: it may differ by "
            f"{CAMERA_MIRED:g} mired and {CAMERA_DUV:g} Duv from a meter's."
            if stage.is_other_eye(light)
            else "Held against the balance of the same camera, so that how its sensor sees this "
            "lamp is in both."
        )
    if light.entry.aim.like is not None:
        found.append(_like(stage, light.entry.aim.like))
    if light.hung.dim_stops > 0 and light.lamp.kind not in FILAMENTS:
        found.append("Dimmed: taken to keep its colour, which only a filament does not.")
    if on_level:
        found.append(on_level)
    if light.lamp.lacks_colours:
        found.append(WHITE_ALONE)
    return found + light_notes(light.lamp, from_file=light.entry.spectrum is not None)


def _like(stage: Stage, name: str) -> str:
    other = stage.hanging(name)
    read = stage.said(other, sensor=False)
    if read is not None and read.colour is not None:
        return f"{other.entry.name} is taken as it was read."
    front = " + ".join(each.name for each in other.front)
    through = f"through {front}" if front else "bare"
    return f"{other.entry.name} was not read: taken as computed, {through}."


def _bare(light: Light) -> tuple[float, float]:
    at_mired, duv = mired_duv(uv(light.power))
    return float(at_mired), float(duv)


def _moved_text(
    light: Hanging, was: float, now: float, by_duv: float, since: str, then_said: str
) -> str:
    """What became of the bare light, in mired and Duv, in a sentence."""
    if not (math.isfinite(was) and math.isfinite(now)):
        return ""
    is_sky = light.lamp.kind == "daylight" or light.entry.fitting == "window"
    subject = "The sky" if is_sky else "The light"
    if abs(now - was) < SEEN_MIRED and abs(by_duv) < SEEN_DUV:
        return f"{subject} is as it was {since}, as near as is seen."
    text = (
        f"{subject} moved {say_left(now - was, by_duv)} {since}: bare it is {kelvin(now):.0f} K "
        f"now, {kelvin(was):.0f} K {then_said}."
    )
    if light.lamp.kind in FILAMENTS and now - was >= SEEN_MIRED:
        text += " Low mains or a dimmer warms a filament."
    elif light.lamp.is_discharge:
        text += " Such lamps drift with their hours: read them every day."
    elif light.sheets and not is_sky:
        text += " Or a sheet does not do what it is declared to: read one alone."
    return text


def _of_colour(colour: Colour, taken: Trim) -> str:
    """Why the colour is left or changed so."""
    after = taken.after.colour
    if colour.within:
        return "Its colour stays."
    if after is None or taken.move == "leave":
        if under_half_a_grade(colour):
            return (
                f"That is under half of the smallest grade ({HALF_GRADE_MIRED:.0f} mired, "
                f"{HALF_GRADE_DUV:g} Duv): a sheet would cost light and gain nothing. Its own "
                "tint control, if it has one, may do it."
            )
        return (
            "No one change that the plan allows with this kit brings it near: a new stack by "
            "`evencast solve`, its own tint control, another lamp, or the balance."
        )
    where = "inside" if after.within else "nearer, and still outside"
    text = f"{taken.text[0].upper()}{taken.text[1:]}, and it is {_said(after)}: {where}."
    if after.within and after.outside:
        text += f" Only {after.share_within:.0%} of what it may be is: read it again."
    if taken.next_best is not None:
        told, next_colour = taken.next_best
        text += f" Next best: {told}, which leaves {_said(next_colour)}."
    return text


def _of_level(bench: Bench, before: State, of_colour: Trim, of_level: Trim) -> str:
    over = middle(before.over_stops)
    told = f"Its level is {say_stops(over)} {'over' if over > 0 else 'under'} what is wanted"
    if abs(over) < UNSEEN_STOPS:
        told = "Its level is as wanted"
    if is_met(before.over_stops, bench.allowed):
        return f"{told}: it stays."
    if of_colour.move != "leave":
        return f"{told}: colour first."
    if of_level.move == "leave":
        return f"{told}, and nothing that the plan allows on it changes that much."
    if is_met(of_level.after.over_stops, bench.allowed):
        return f"{told}: {of_level.text} does it."
    left = say_stops(middle(of_level.after.over_stops))
    return f"{told}: {of_level.text} brings it nearer and leaves {left}."


def _said(colour: Colour) -> str:
    return say_left(colour.residual_mired, colour.residual_duv)


def _lost(before: State, taken: Trim) -> float:
    after = taken.after.colour
    if before.colour is None or after is None:
        return 0.0
    return after.loss_stops - before.colour.loss_stops
