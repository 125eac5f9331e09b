"""What is said beside a picture, on the screen and on paper alike."""

from __future__ import annotations

from evencast.camera.sensitivities import CAMERAS
from evencast.quantities import say_left, say_stops
from evencast.results.picture import PictureAnswer

EXPOSED = {
    "held": "The stop is metered under the bare light and held.",
    "compensated": "The stop makes good what the sheets take.",
}


def subject(answer: PictureAnswer) -> str:
    """The light and its sheets: "Tungsten 3200 K through half CTB + eighth CTB"."""
    stack = " + ".join(answer.filters)
    told = f"{answer.light} through {stack}" if stack else answer.light
    return told[:1].upper() + told[1:]


def shown_as(answer: PictureAnswer) -> str:
    """Who sees it and for which display, as the start of a sentence."""
    seer = seen_by(answer)
    if answer.camera in CAMERAS[1:]:
        seer += ", a published sensor and not yours,"
    return f"as {seer} sees it, in code values for {answer.display}"


def seen_by(answer: PictureAnswer) -> str:
    """What sees: "the eye", "camera A"."""
    return "the eye" if answer.camera == "eye" else answer.camera


def eye_words(answer: PictureAnswer, *, filtered: bool) -> str:
    """A neutral card to the eye: "4 ± 6 mired warm, a trace green"."""
    start = "" if filtered else "bare_"
    told = say_left(
        getattr(answer, f"{start}residual_mired"), getattr(answer, f"{start}residual_duv")
    )
    low, high = (answer.band or {}).get(f"{start}residual_mired", (None, None))
    if low is None or high is None or high - low < 1.0:
        return told
    number, rest = told.split(" ", 1)
    return f"{number} ± {(high - low) / 2:.0f} {rest}"


def camera_words(answer: PictureAnswer, *, filtered: bool) -> str | None:
    """A neutral card in the camera's balanced raw: "R/G +0.12 stop, redder; B/G -0.30 stop, less
    blue"; None for the eye."""
    start = "" if filtered else "bare_"
    red = getattr(answer, f"{start}residual_rg_stops")
    blue = getattr(answer, f"{start}residual_bg_stops")
    if red is None or blue is None:
        return None
    return f"R/G {_stops(red, 'red')}; B/G {_stops(blue, 'blue')}"


def half_words(answer: PictureAnswer, *, filtered: bool) -> list[str]:
    """What stands over one half of a picture: what the sheets take, the eye, the camera. Names
    come last, so that a long one cuts off no number."""
    lines = [f"A grey card to the eye: {eye_words(answer, filtered=filtered)}"]
    told = camera_words(answer, filtered=filtered)
    if told is not None:
        lines.append(f"To the camera: {told}")
    if filtered:
        lines.insert(0, f"Loses {say_stops(answer.loss_stops)}: {' + '.join(answer.filters)}")
    return lines


def _stops(value: float, colour: str) -> str:
    if abs(value) < 0.005:
        return "0.00 stop"
    return f"{value:+.2f} stop, {'more' if value > 0 else 'less'} {colour}"
