"""`colourist`: per set-up what was intended, what hangs and what it leaves, as PDF and as CSV."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from evencast.actions.flicker import say_time
from evencast.actions.handouts.colourist_facts import LightFacts, PartFacts, facts
from evencast.actions.handouts.job import Job, Made
from evencast.actions.noted import noted
from evencast.camera.flicker import FRAMES_PER_S
from evencast.errors import Problem
from evencast.handouts.colourist import (
    COLUMNS,
    LAYOUT,
    Colourist,
    ColouristFrame,
    ColouristLight,
    ColouristSetup,
)
from evencast.handouts.spreadsheet import Cell, csv_bytes
from evencast.plan.place import quoted
from evencast.plan.setup import Rigged
from evencast.quantities import is_offset, say_left, say_stops
from evencast.results.choice import AimAnswer
from evencast.results.hangs import HangingLight
from evencast.results.light import Band
from evencast.results.plan import PlannedLight
from evencast.results.words import say_doubtful_left, say_inside, say_over, say_view

DOUBT = (
    "After ± half the band that holds nine in ten of what sheets and lights not measured may do; "
    "under Inside the share of it within the tolerance."
)
CAMERA = (
    "R/G and B/G: a neutral card under the light in the balanced raw of {camera}, + redder and "
    "+ bluer than neutral."
)


def made(job: Job) -> list[Made]:
    """colourist.pdf and colourist.csv."""
    parts = [facts(job, part) for part in job.parts]
    content = Colourist(job.name, [_setup(each) for each in parts])
    printed = job.typeset("colourist.pdf", LAYOUT, f"For the colourist: {job.name}", content)
    rows = [_cells(job, each, light) for each in parts for light in each.lights]
    found = [problem for each in parts for problem in _problems(job, each)]
    problems = list(dict.fromkeys([*printed.problems, *found]))
    return [
        replace(printed, problems=problems),
        Made("colourist.csv", csv_bytes(COLUMNS, rows), []),
    ]


def _setup(of: PartFacts) -> ColouristSetup:
    answer = of.part.answer
    notes = [DOUBT] if any(each.band is not None for each in answer.lights) else []
    if of.camera is not None and not of.camera.is_eye:
        notes.append(CAMERA.format(camera=of.camera.name))
    return ColouristSetup(
        name=of.part.name,
        facts=_camera(of),
        told="" if of.lights else "The plan has no light yet.",
        lights=[_light(each) for each in of.lights],
        spots=[(each.name, each.verdict) for each in answer.spots],
        views=[(each.name, say_view(each)) for each in answer.views],
        frames=_frames(of.lights),
        notes=notes,
    )


def _camera(of: PartFacts) -> list[tuple[str, str]]:
    camera, mains_hz = of.part.loaded.plan.camera, of.part.loaded.plan.mains_hz
    shutter = f", {camera.shutter_deg:g}°" if camera.shutter_deg else ""
    stop = "not set in the plan"
    if camera.t_stop or camera.f_stop:
        stop = f"T {camera.t_stop:g}" if camera.t_stop else f"f/{camera.f_stop:g}"
    told = [
        ("Balance", _white(of.part.answer.balance)),
        ("Exposure index", f"{camera.exposure_index:g}"),
        (
            "Shutter",
            f"{say_time(camera.exposure_s(mains_hz=mains_hz))}{shutter}, "
            f"{camera.frames_per_s or FRAMES_PER_S[mains_hz]:g} frames per second",
        ),
        ("Stop", stop),
    ]
    if of.stands_at is not None:
        kept = f"{_white(of.stands_at)}: lights rigged and read are held against this"
        told.insert(1, ("Kept in the set-up", kept))
    return told


def _white(balance: AimAnswer) -> str:
    """A balance in Kelvin, mired and Duv, with its name where it has one of its own."""
    if balance.cct_k is None or balance.mired is None:
        return f"{balance.label}, which has no colour temperature"
    named = "" if balance.label == f"{balance.cct_k:.0f}K" else f"{balance.label}: "
    return f"{named}{balance.cct_k:.0f} K ({balance.mired:.1f} mired), Duv {balance.duv + 0.0:+.4f}"


def _light(light: LightFacts) -> ColouristLight:
    left, inside = _left(light)
    return ColouristLight(
        number=light.number,
        name=light.entry.name,
        role=light.entry.role,
        meant=_meant(light),
        offset=_offset(light),
        hangs=_hangs(light),
        left=left,
        camera=_to_camera(light),
        inside=inside,
        level=_level(light),
        read=_read(light),
    )


def _meant(light: LightFacts) -> str:
    """What is intended, in words."""
    aim, (mired, duv) = light.entry.aim, light.offset
    named = f"like {aim.like}" if aim.like else aim.look or ""
    if mired is None or duv is None:
        return named or "a colour without a colour temperature"
    if not is_offset(mired, duv):
        return f"{named}: neutral" if named else "neutral"
    return (f"{named}: " if named else "meant to be ") + say_left(mired, duv)


def _offset(light: LightFacts) -> str:
    """The same in numbers; "" for neutral."""
    mired, duv = light.offset
    if mired is None or duv is None or not is_offset(mired, duv):
        return ""
    return f"{mired:+.0f} mired, Duv {duv + 0.0:+.4f}"


def _hangs(light: LightFacts) -> str:
    """What stands in front and how it is set: as rigged, else as planned."""
    rigged, planned, view = light.rigged, light.planned, light.view
    if rigged is not None:
        return "rigged: " + ("switched off" if rigged.off else _words(rigged, light.entry.frost))
    if planned is not None:
        if "switch off" in planned.move:
            return "switched off"
        words = _words(planned, light.entry.frost)
        lost = planned.move == "nothing reaches it"
        return f"{words}, as nothing reaches it" if lost else words
    behind = f"seen through {light.entry.behind}" if light.entry.behind else "seen"
    return f"{behind}: {' + '.join(view.filters) or 'no sheet'}" if view else behind


def _words(hung: Rigged | PlannedLight, frost: Iterable[str]) -> str:
    """Lamp, sheets from it outwards, scrims, dimmer."""
    parts = [f"swapped for {hung.swapped_for}"] if hung.swapped_for else []
    parts += [] if hung.dial_k is None else [f"dialled to {hung.dial_k:.0f} K"]
    parts += [*hung.filters, *(each for each in frost if each not in hung.filters)]
    parts += [f"{each} scrim" for each in hung.scrims]
    parts += [f"dimmed by {say_stops(hung.dim_stops)}"] if hung.dim_stops else []
    return " + ".join(parts) or "bare"


def _left(light: LightFacts) -> tuple[str, str]:
    """What is left with what hangs, and whether that is inside."""
    shown: HangingLight | PlannedLight | None = light.as_rigged or light.planned
    if light.rigged is not None and light.as_rigged is None:
        return "not worked out", ""
    if shown is None:
        if light.view is None:
            return "not known: it has no level", ""
        within = {True: "yes", False: "no", None: "not judged"}[light.view.within_tolerance]
        return say_left(*light.residual), within
    if shown.residual_duv is None:
        return "", ""
    return say_doubtful_left(shown), "harmless" if shown.harmless else say_inside(shown)


def _to_camera(light: LightFacts) -> str:
    red, blue = light.to_camera
    if light.rigged is not None or red is None or blue is None:
        return ""
    return f"R/G {red:+.2f} stop, B/G {blue:+.2f} stop"


def _level(light: LightFacts) -> str:
    """Against the key."""
    stops = light.against_key_stops
    if stops is None:
        return "not known"
    if light.lit is not None and light.lit.role == "key" and stops == 0:
        return "the key"
    return "as the key" if abs(stops) < 0.05 else say_over(stops)


def _read(light: LightFacts) -> str:
    told = noted(light.read)
    if told is None:
        return ""
    mired, duv = light.of_read
    if mired is None:
        return f"read {told.text}"
    return f"read {told.text}: {say_left(mired, duv)}"


def _frames(lights: list[LightFacts]) -> list[ColouristFrame]:
    return [
        ColouristFrame(
            frame=each.read.frame or "no frame noted",
            light=f"{each.number}  {each.entry.name}",
            when=", ".join(part for part in (each.read.time, each.read.sky) if part)
            or "time and sky not noted",
        )
        for each in lights
        if each.read is not None and (each.read.frame or each.read.time or each.read.sky)
    ]


def _problems(job: Job, of: PartFacts) -> Iterable[Problem]:
    """A camera that cannot be read, times that cannot be placed, another balance than is solved."""
    yield from of.problems
    where = f"{job.path.name}, setup {quoted(of.part.name)}"
    for light in of.lights:
        time = light.read.time if light.read else None
        if time is not None and not _has_offset(time):
            yield Problem(
                "warning",
                f"{where}, light {quoted(light.entry.name)}.read.time",
                f"{quoted(time)} is not a time with its offset from UTC",
                "Write it as 2031-05-04T16:20+02:00, so that it can be set beside the clips.",
            )
    if of.stands_at is not None:
        yield Problem(
            "warning",
            where,
            f"it keeps the balance {_white(of.stands_at)}; solved again it would be "
            f"{_white(of.part.answer.balance)}",
            "What was rigged and read is held against the one that is kept. Change the set-up, or "
            "keep the plan anew.",
        )


def _has_offset(time: str) -> bool:
    try:
        return datetime.fromisoformat(time).utcoffset() is not None
    except ValueError:
        return False


def _cells(job: Job, of: PartFacts, light: LightFacts) -> dict[str, Cell]:
    """One row of the CSV: what `solve` says, then what was rigged and read."""
    part, rigged, hung, lit = of.part, light.rigged, light.as_rigged, light.lit
    balance = part.answer.balance
    exposure = part.answer.exposure
    camera, mains_hz = part.loaded.plan.camera, part.loaded.plan.mains_hz
    return {
        "plan": job.name,
        "setup": part.name,
        "date": job.wishes.date,
        "balance_k": balance.cct_k,
        "balance_duv": balance.duv,
        "exposure_index": camera.exposure_index,
        "frames_per_s": camera.frames_per_s or FRAMES_PER_S[mains_hz],
        "exposure_s": camera.exposure_s(mains_hz=mains_hz),
        "stop_f_number": exposure.shot_f_number if exposure else camera.t_stop or camera.f_stop,
        "light_number": light.number,
        "light": light.entry.name,
        "role": light.entry.role,
        "intended": _meant(light),
        "intended_offset_mired": light.offset[0],
        "intended_offset_duv": light.offset[1],
        "residual_mired": light.residual[0],
        "residual_duv": light.residual[1],
        "against_key_stops": light.against_key_stops,
        "over_shot_stops": lit.over_shot_stops[1] if lit and lit.over_shot_stops else None,
        "camera_residual_rg_stops": light.to_camera[0],
        "camera_residual_bg_stops": light.to_camera[1],
        **_planned_cells(light),
        "rigged": rigged is not None,
        "rigged_filters": " + ".join(rigged.filters) if rigged else None,
        "rigged_residual_mired": hung.residual_mired if hung else None,
        "rigged_residual_duv": hung.residual_duv if hung else None,
        "rigged_within_tolerance": hung.within_tolerance if hung else None,
        **_read_cells(light),
    }


def _planned_cells(light: LightFacts) -> dict[str, Cell]:
    planned, view = light.planned, light.view
    if planned is None:
        return {
            "filters": " + ".join(view.filters) if view else None,
            "within_tolerance": view.within_tolerance if view else None,
            "over_shot_stops": view.over_stops[1] if view else None,
        }
    return {
        "move": planned.move,
        "filters": " + ".join(planned.filters),
        "frost": " + ".join(light.entry.frost),
        "scrims": " + ".join(planned.scrims),
        "dial_k": planned.dial_k,
        "dim_stops": planned.dim_stops,
        "swapped_for": planned.swapped_for,
        "cct_k": planned.filtered.cct_k,
        "duv": planned.filtered.duv,
        **_band_cells(planned.band),
        "tolerance_mired_low": planned.tolerance.mired_low,
        "tolerance_mired_high": planned.tolerance.mired_high,
        "tolerance_duv": planned.tolerance.duv,
        "within_tolerance": planned.within_tolerance,
        "harmless": planned.harmless,
        "share_within": planned.share_within,
        "loss_stops": planned.loss_stops,
        "level_stops": planned.level_stops,
    }


def _band_cells(band: Band | None) -> dict[str, Cell]:
    found: dict[str, Cell] = {}
    for name in ("residual_mired", "residual_duv"):
        low, high = (band or {}).get(name, (None, None))
        found |= {f"{name}_low": low, f"{name}_high": high}
    return found


def _read_cells(light: LightFacts) -> dict[str, Cell]:
    read, told = light.read, noted(light.read)
    if read is None or told is None:
        return {}
    return {
        "read": told.text,
        "read_cct_k": read.cct_k,
        "read_duv": read.duv,
        "read_residual_mired": light.of_read[0],
        "read_residual_duv": light.of_read[1],
        "read_time": read.time,
        "read_sky": read.sky,
        "read_frame": read.frame,
    }
