"""A reading in words, as a set-up says it."""

from __future__ import annotations

from evencast.camera.exposure import marked_stop
from evencast.plan.setup import Read
from evencast.results.hangs import ReadOnSet


def noted(read: Read | None) -> ReadOnSet | None:
    """What was read of a light; None where nothing was."""
    if read is None:
        return None
    text = ", ".join([*_colour(read), *_level(read)]) or "nothing written"
    return ReadOnSet(text, read.time, read.sky, read.frame)


def _colour(read: Read) -> list[str]:
    if read.cct_k is None:
        return []
    told = [f"{read.cct_k:g} K"]
    if read.duv is not None:
        told.append(f"Duv {read.duv:+.4f}")
    if read.tint is not None:
        told.append(f"camera tint {read.tint}")
    return told


def _level(read: Read) -> list[str]:
    told = []
    if read.lux is not None:
        told.append(f"{read.lux:g} lx")
    if read.fc is not None:
        told.append(f"{read.fc:g} fc")
    if read.ev is not None:
        told.append(f"EV {read.ev:g}")
    if read.f_stop is not None:
        at = [] if read.exposure_index is None else [f"index {read.exposure_index:g}"]
        at += [] if read.shutter_s is None else [f"1/{1 / read.shutter_s:.3g} s"]
        told.append(marked_stop(read.f_stop) + (f" at {', '.join(at)}" if at else ""))
    return told
