"""The readings on a card: what is expected of a light, what was read of it, and room to write."""

from __future__ import annotations

from evencast.actions.flicker import say_time
from evencast.actions.handouts.job import Part
from evencast.actions.reading import green_duv
from evencast.handouts.cards import Row
from evencast.plan.setup import Read, SetupLight
from evencast.quantities import mired, say_duv
from evencast.results.light import say_kelvin, say_reading_duv
from evencast.results.plan import PlannedLight
from evencast.results.words import say_stop_range

TO_FILL_IN = Row("read")


def rows_of(part: Part, said: SetupLight | None, planned: PlannedLight | None) -> list[Row]:
    """Rows for one light; none for one that is switched off and was not read.

    said    : what the set-up says of it
    planned : None where it is switched off
    """
    was_read = [_read(said.read)] if said and said.read else []
    if planned is None:
        return was_read
    return [_expected(part, planned), *was_read, TO_FILL_IN]


def _expected(part: Part, planned: PlannedLight) -> Row:
    exposure = part.answer.exposure
    lights = exposure.lights if exposure else []
    stops = [say_stop_range(each.f_number) for each in lights if each.name == planned.name]
    return Row(
        "expected",
        kelvin=say_kelvin(planned.filtered),
        between=_band(planned),
        duv=say_reading_duv(planned.filtered),
        stop=stops[0] if stops else "not known",
    )


def _band(planned: PlannedLight) -> str:
    """What nine in ten of all that sheets and light may be lie between."""
    low, high = (planned.band or {}).get("cct_k", (None, None))
    return "" if low is None or high is None else f"{low:.0f} to {high:.0f}"


def _read(read: Read) -> Row:
    at = (read.time or "").replace("T", " ")
    frame = f"frame {read.frame}" if read.frame else ""
    return Row(
        "was read",
        kelvin="" if read.cct_k is None else f"{read.cct_k:.0f} K",
        duv=_green(read),
        stop=_level(read),
        time="\n".join(each for each in (at, read.sky or "", frame) if each),
    )


def _green(read: Read) -> str:
    """Duv and its words, or the tint of the camera that was dialled to it."""
    if read.tint is not None:
        return f"on the camera, tint {read.tint}"
    if read.duv is None:
        return ""
    green = None if read.cct_k is None else green_duv(mired(read.cct_k), read.duv)
    told = f"{read.duv + 0.0:+.4f}"
    return told if green is None else f"{told}, {say_duv(green)}"


def _level(read: Read) -> str:
    """As it was read, and at which index and shutter where the card says another."""
    if read.f_stop is not None:
        at = [] if read.exposure_index is None else [f"index {read.exposure_index:g}"]
        at += [] if read.shutter_s is None else [say_time(read.shutter_s)]
        return "\n".join([f"f/{read.f_stop:g}", *at])
    for value, unit in ((read.lux, "lx"), (read.fc, "fc")):
        if value is not None:
            return f"{value:g} {unit}"
    return "" if read.ev is None else f"EV {read.ev:g}"
