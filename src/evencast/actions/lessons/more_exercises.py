"""Exercises on cameras, lamps, ratios and doubt: what is asked, and the way there."""

from __future__ import annotations

import math

import numpy as np

from evencast.actions.doubt import ends, middle
from evencast.actions.lessons import cameras, contrast, doubt, lamps, ruler
from evencast.actions.lessons.exercises import Made
from evencast.actions.lessons.faces import halves, raw_words
from evencast.actions.lessons.words import capital, say_band, say_green, say_shift
from evencast.camera.rendering import residual_stops
from evencast.camera.sensitivities import camera_named
from evencast.colour import white
from evencast.handouts.lessons.rows import Half, PatchRow, PatchRows
from evencast.quantities import Floats, kelvin, mired, say_stops
from evencast.results.lessons import Exercise

STEP_MIRED = 10.0


def by_a_camera(number: int) -> Made:
    """How many mired the blue of a camera's raw says."""
    lamp, camera = "FL4", "camera A"
    seen = cameras.seen_as(lamp, 1.0, camera)
    blue = seen.bare_residual_bg_stops or 0.0
    lamp_k = cameras.balance_of(lamp).cct_k
    step = blue_of_a_step(lamp_k, camera)
    found = blue / step * STEP_MIRED
    return (
        Exercise(
            number=number,
            lesson="cameras",
            title="The meter says neutral",
            asks=f"A smooth lamp and a warm white tube read the same on the meter, {lamp_k:.0f} K. "
            "The camera is balanced to the smooth lamp. In a frame of a grey card under the tube "
            f"its raw has {raw_words(seen)}. By the blue alone, how warm is the tube to this "
            "camera?",
            given=[
                f"In this camera {STEP_MIRED:.0f} mired warmer, from {lamp_k:.0f} K, is "
                f"{step:+.3f} stop of B/G."
            ],
            steps=[
                f"B/G is off by {blue:+.2f} stop, and {STEP_MIRED:.0f} mired are {step:+.3f} stop.",
                f"{blue:+.2f} / {step:+.3f} = {blue / step:.1f} steps of {STEP_MIRED:.0f} mired: "
                f"{found:.0f} mired.",
                "To eye and meter it is 0. Its red says something else again, since the tube is no "
                "white at all to this camera.",
            ],
            answer=f"By its blue about {found:.0f} mired warm, though the meter says neutral: "
            "correct by the frame, not by the meter.",
            numbers={"bg_stops": blue, "step_bg_stops": step, "found_mired": found},
        ),
        PatchRows(
            title="The tube as eye and camera see it",
            rows=[cameras_row("eye", lamp), cameras_row(camera, lamp)],
        ),
    )


def blue_of_a_step(from_k: float, camera: str) -> float:
    """What ten mired warmer among whites is in a camera's B/G. [stops]"""
    warmer = white(kelvin(mired(from_k) + STEP_MIRED))
    return float(residual_stops(warmer, white(from_k), camera_named(camera))[1])


def cameras_row(camera: str, lamp: str) -> PatchRow:
    """The tube bare, as one seer has it."""
    seen = cameras.seen_as(lamp, 1.0, camera)
    return PatchRow(
        "The eye" if camera == "eye" else capital(camera),
        [raw_words(seen)],
        [
            Half("smooth light", cameras.seen_as(lamp, 0.0, camera).bare),
            Half("the tube", seen.bare),
        ],
    )


def on_an_led(number: int) -> Made:
    """What orange lacks on a white LED."""
    sheet = "full CTO"
    named = ruler.named_shift(sheet)
    looked, seen = lamps.on("LED-B3", sheet), lamps.seen("LED-B3", sheet)
    found, start = middle(looked.shift_mired), middle(looked.bare.mired)
    return (
        Exercise(
            number=number,
            lesson="lamps",
            title="Orange on a white LED",
            asks=f"{capital(sheet)} goes in front of a white LED of {kelvin(start):.0f} K. What "
            "comes out by the ruler, and which way will it be off?",
            given=[f"{capital(sheet)} is named for {say_shift(named)} on daylight."],
            steps=[
                f"The lamp in mired: 1 000 000 / {kelvin(start):.0f} = {start:.1f}.",
                f"By the ruler: {start:.1f} + {named:.1f} = {start + named:.1f}, that is "
                f"{kelvin(start + named):.0f} K.",
                f"From spectra: {say_shift(found)} ({say_band(looked)}), that is "
                f"{kelvin(start + found):.0f} K: {abs(found - named):.0f} mired "
                f"{'less' if found < named else 'more'} than its name.",
                f"And it turns {say_green(lamps.turn(seen))}, which no ruler in mired shows.",
            ],
            answer=f"{kelvin(start + named):.0f} K by the ruler, {kelvin(start + found):.0f} K by "
            "spectra, and green has to be looked at too.",
            numbers={
                "named_mired": named,
                "found_mired": found,
                "by_hand_k": kelvin(start + named),
                "found_k": kelvin(start + found),
                "turn_duv": lamps.turn(seen),
            },
        ),
        PatchRows(
            title="Full CTO on a white LED",
            rows=[PatchRow(capital(looked.light.name), [], halves(seen))],
        ),
    )


def both_ratios(number: int) -> Made:
    """A fill for a ratio in both definitions."""
    key, to_one = 640.0, 3.0
    answer, back = contrast.both(to_one, key)
    first, second = answer.fill_by_key_to_fill, back.fill_by_key_to_fill
    chart = contrast.balls(to_one, (answer, back))
    return (
        Exercise(
            number=number,
            lesson="contrast",
            title="Three to one",
            asks=f"The key alone reads {key:.0f} lux. What must the fill alone read for "
            f"{to_one:g}:1, by either definition, and how many stops are between the two fills?",
            given=[],
            steps=[
                f"Key : fill: {key:.0f} / {to_one:g} = {first:.0f} lux; "
                f"log2 {to_one:g} = {answer.key_to_fill_stops:.2f} stop under the key.",
                f"(Key + fill) : fill: {key:.0f} / ({to_one:g} - 1) = {second:.0f} lux; check: "
                f"({key:.0f} + {second:.0f}) / {second:.0f} = {back.sum_to_fill:.2f}.",
                f"Between the fills: log2 ({second:.0f} / {first:.0f}) = "
                f"{math.log2(second / first):.2f} stop.",
            ],
            answer=f"{first:.0f} lux or {second:.0f} lux, {say_stops(math.log2(second / first))} "
            "apart: ask which ratio is meant.",
            numbers={
                "fill_by_key_to_fill_lux": first,
                "fill_by_sum_to_fill_lux": second,
                "apart_stops": math.log2(second / first),
            },
        ),
        chart,
    )


TOLERANCE_MIRED = 12.0


def before_the_meter(number: int) -> Made:
    """How sure a declared sheet is on a tube."""
    lamp, sheet = "FL4", "full CTB"
    looked = lamps.on(lamp, sheet)
    shift = middle(looked.shift_mired)
    low, high = ends(looked.shift_mired, 3)
    inside = share_inside(looked.shift_mired, shift)
    width = (high or 0.0) - (low or 0.0)
    chart = doubt.tell({"lamp": lamp}).chart
    return (
        Exercise(
            number=number,
            lesson="doubt",
            title="Hang it unread?",
            asks=f"{capital(sheet)}, known by its printed numbers alone, is to go on warm white "
            f"tubes behind the scene. The background may be off by {TOLERANCE_MIRED:.0f} mired "
            "either way. Is it safe to hang it without reading it?",
            given=[f"Best guess {say_shift(shift)}; band {say_band(looked)}."],
            steps=[
                f"The band is {width:.0f} mired wide, half of it {width / 2:.0f}.",
                f"Allowed is {TOLERANCE_MIRED:.0f} either way: "
                f"{'less' if width / 2 > TOLERANCE_MIRED else 'no less'} than half the band.",
                f"Of all that the sheet may be, {inside:.0%} come out within "
                f"{TOLERANCE_MIRED:.0f} mired of the best guess.",
            ],
            answer=f"Aimed at the best guess it is inside {round(inside * 100):.0f} times in a "
            "hundred: hang it, read it, trim it.",
            numbers={"shift_mired": shift, "width_mired": width, "inside_share": inside},
        ),
        chart,
    )


def share_inside(shifts: Floats, aim: float) -> float:
    """Share of the members that come within the tolerance of an aim."""
    return float(np.mean(np.abs(shifts - aim) <= TOLERANCE_MIRED))
