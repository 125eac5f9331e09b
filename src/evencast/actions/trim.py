"""`trim`: the one change that brings a light, as it hangs and reads, nearest to its aim."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from pathlib import Path

from evencast.actions import trim_words
from evencast.actions.aims import level_aim, look_in
from evencast.actions.cautions import cautions, look_cautions, move_cautions
from evencast.actions.doubt import looks
from evencast.actions.flicker import flicker
from evencast.actions.hanging import Hanging, camera_colour, entry_named
from evencast.actions.kit import LoadedKit
from evencast.actions.levels import over_shot, shot_of
from evencast.actions.match import aim_answer, tolerance_answer
from evencast.actions.reading import rounded
from evencast.actions.stage import Said, Stage, staged
from evencast.actions.taking import Readings, level_of
from evencast.actions.trim_bench import Bench, State
from evencast.actions.trim_colour import colour_trim
from evencast.actions.trim_level import is_met, level_trim
from evencast.colour import DUV_LIMIT, check_kelvin
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.lights import Light, parse_kelvin
from evencast.lights.explained import ReadColour
from evencast.lights.expression import parse_camera
from evencast.lights.fixture import Fixture
from evencast.lights.looks import Look
from evencast.plan.place import quoted
from evencast.quantities import mired, say_stops
from evencast.results.expose import Range
from evencast.results.trim import AsRead, Hangs, Left, Move, TrimAnswer
from evencast.solver.aim import Aim

SHEET_MOVES: tuple[Move, ...] = ("take out", "add", "exchange")


@dataclass(frozen=True, slots=True)
class Over:
    """How much brighter a light is than wanted; None where that cannot be told.

    against : what it is held against
    note    : what to know of that
    """

    stops: Range | None = None
    against: str | None = None
    note: str | None = None


class NothingRead(EvencastError):  # noqa: N818 - it says what is lacking
    """A light that nothing was read of has no trim."""


def trim(
    path: Path,
    light: str,
    *,
    setup: str | None = None,
    read: str | None = None,
    camera: str | None = None,
    readings: Readings | None = None,
    balance: str | None = None,
) -> TrimAnswer:
    """One trim for a reading of a light as it hangs.

    setup    : left out, the plan's only one
    read     : a meter's "5480K+0.001"; camera: a camera's "5200K 4 toward magenta"
    readings : of the level; without any reading the set-up's own is taken
    balance  : the camera's, where the plan leaves several, or where it was changed since
    Raises  EvencastError where nothing was read, and for what the plan does not have
    """
    stage = staged(path, setup=setup, balance=balance)
    found = stage.hanging(entry_named(stage.loaded, light).name)
    where = f"light {quoted(found.entry.name)}"
    if found.hung.off:
        raise EvencastError(
            f"{found.entry.name} is switched off in this set-up",
            where=where,
            remedy="Switch it on, and write what hangs there as rigged, without off.",
        )
    given = _given(stage, found, read=read, camera=camera, readings=readings or Readings())
    before = stage.said(found, sensor=stage.is_other_eye(found))
    said = given or before
    if said is None or (said.colour is None and said.level is None):
        raise NothingRead(
            f"nothing was read of {found.entry.name}",
            where=where,
            remedy='Say what it reads as it hangs: --read "5480K+0.001", --camera "5200K 4 toward '
            'magenta", --stop f/4, --lux, --fc or --ev; or write read in the set-up.',
        )
    return _answered(stage, found, said, earlier=before if given else None)


def benched(stage: Stage, light: Hanging, aim: Aim) -> Bench:
    """What trims of a light are judged by."""
    plan = stage.loaded.plan
    return Bench(
        hanging=light,
        aim=aim,
        allowed=plan.allowed(light.entry.role),
        at_hand=_at_hand(stage.loaded.kit),
        layers=plan.limits.layers,
        most_loss_stops=math.inf if plan.limits.loss_stops is None else plan.limits.loss_stops,
    )


def _at_hand(kit: LoadedKit) -> list[Filter]:
    """Sheets a trim may hang: not those of which the kit says that none is left."""
    document = kit.document
    entries = document.filter if document else ()
    gone = {each.name for each in entries if each.stock and not sum(s.count for s in each.stock)}
    return [each for each in kit.searched() if each.name not in gone]


def standing(bench: Bench, now: Light, *, read: bool, over_stops: Range | None) -> State:
    """A light as it hangs.

    now  : the bare light that explains what was read
    read : whether its colour was
    """
    light = bench.hanging
    return State(
        now=now,
        sheets=light.sheets,
        dial_k=light.hung.dial_k,
        scrims=light.hung.scrims,
        dim_stops=light.hung.dim_stops,
        distance_m=light.distance_m,
        colour=bench.colour(now, light.sheets) if read else None,
        over_stops=over_stops,
    )


def _answered(stage: Stage, light: Hanging, said: Said, earlier: Said | None) -> TrimAnswer:
    plan, aim = stage.loaded.plan, stage.aim(light)
    bench = benched(stage, light, aim)
    now = light.light if said.colour is None else light.explained_by(said.colour)
    over = _over(stage, light, said)
    before = standing(bench, now, read=said.colour is not None, over_stops=over.stops)
    of_colour = colour_trim(bench, before)
    of_level = level_trim(bench, of_colour.after)
    taken = of_level if of_colour.move == "leave" else of_colour
    moved = trim_words.moved(light, now, said, earlier)
    expected = looks(light.light, light.front).reading
    return TrimAnswer(
        plan=plan.name,
        setup=stage.setup.name if stage.setup else None,
        light=light.entry.name,
        role=light.entry.role,
        balance=aim_answer(stage.balance),
        aim=aim_answer(aim),
        tolerance=tolerance_answer(light.entry.role, bench.allowed),
        tolerance_stops=bench.allowed.stops,
        hangs_by=light.known_by,
        hangs=_hangs(light, before),
        read=_as_read(stage, said),
        expected_k=expected.cct_k,
        expected_duv=expected.duv,
        moved_mired=moved.mired,
        moved_duv=moved.duv,
        moved_since=moved.since,
        wanted_level=over.against,
        before=_left(before, bench),
        trim=taken.text,
        move=taken.move,
        after_hangs=_hangs(light, taken.after),
        after=_left(taken.after, bench),
        then=trim_words.then(bench, before, of_colour, of_level),
        why=trim_words.why(bench, before, of_colour, of_level, moved),
        notes=trim_words.notes(stage, light, said, over.note),
        cautions=_cautions(stage, bench, taken.move, taken.after),
        problems=list(stage.loaded.problems),
    )


def _given(
    stage: Stage, light: Hanging, *, read: str | None, camera: str | None, readings: Readings
) -> Said | None:
    """What the call says was read; None where it says nothing."""
    if read is not None and camera is not None:
        raise EvencastError(
            "its colour is read twice, by --read and by --camera",
            where=f"light {quoted(light.entry.name)}",
            remedy="Keep one: the camera's, where the picture is what counts.",
        )
    colour = _by_meter(read) if read is not None else None
    if camera is not None:
        colour = _by_camera(stage, light, camera)
    level, level_by = None, None
    if readings.given():
        level, _, level_by = level_of(
            readings,
            fixture=Fixture(light.entry.name),
            light=light.lamp,
            at_m=None,
            camera=stage.camera,
        )
    if colour is None and level is None:
        return None
    known_by = "camera" if camera is not None else "meter"
    return Said(colour, None if colour is None else known_by, level, level_by, None, None)


def _by_meter(text: str) -> ReadColour:
    parsed = parse_kelvin(text)
    if parsed is None:
        raise EvencastError(
            f'"{text}" is not a reading of a colour meter',
            where="--read",
            remedy="Write Kelvin and Duv, as in 5480K+0.001; or Kelvin alone, as in 5480K.",
        )
    check_kelvin(parsed[0])
    if parsed[1] is not None and not abs(parsed[1]) <= DUV_LIMIT:
        raise EvencastError(
            f"a Duv of {parsed[1]:g} is none that a white light has",
            where="--read",
            remedy=f"Write a Duv within {DUV_LIMIT:g}, such as 5480K+0.001.",
        )
    return ReadColour(*parsed)


def _by_camera(stage: Stage, light: Hanging, text: str) -> ReadColour:
    parsed = parse_camera(f"camera {text}")
    if parsed is None:
        raise EvencastError(
            f'"{text}" is not a camera\'s balance',
            where="--camera",
            remedy='Write 5200K, or with its tint "5200K 4 toward magenta": where the camera '
            "makes this light neutral.",
        )
    check_kelvin(parsed[0])
    step_duv = stage.loaded.plan.camera.tint_step_duv
    found = camera_colour(*parsed, step_duv=step_duv, sensor=stage.is_other_eye(light))
    if not abs(found.duv or 0.0) <= DUV_LIMIT:
        raise EvencastError(
            f"a tint of {abs(parsed[1]):g} steps is none that a white light has",
            where="--camera",
            remedy="Check the tint; the plan's tint_step_duv says how much one step of it is.",
        )
    return found


def _over(stage: Stage, light: Hanging, said: Said) -> Over:
    """How much brighter a light is than wanted: against the key as it was read, else against
    the stop the camera is set to."""
    plan = stage.loaded.plan
    key = next((each.name for each in plan.light if each.role == "key"), None)
    is_key = light.entry.name == key
    stops = level_aim(light.entry, lambda name: look_in(plan, name))
    if said.level is None or (stops is None and not is_key):
        return Over()
    beside = stops or 0.0
    told = f"{say_stops(beside)} {'over' if beside > 0 else 'under'} " if beside else ""
    of_key = None if key is None or is_key else stage.said(stage.hanging(key), sensor=False)
    if of_key is not None and of_key.level is not None:
        low, high = stage.camera.stops_above(said.level, of_key.level)
        return Over(
            (low - beside, high - beside), f"{told or 'as '}{key} as it was read, {of_key.level_by}"
        )
    shot = shot_of(plan.camera)
    if shot.f_number is None:
        return Over(note=shot.note)
    low, high = over_shot(said.level, stage.camera, shot.f_number)
    return Over(
        (low - beside, high - beside), f"{told}f/{shot.f_number:g} of the camera", shot.note
    )


def _hangs(light: Hanging, state: State) -> Hangs:
    return Hangs(
        filters=[each.name for each in state.sheets],
        frost=[each.name for each in light.fixed],
        scrims=list(state.scrims),
        dial_k=None if state.dial_k is None else round(state.dial_k, 1),
        dim_stops=round(state.dim_stops, 4),
        swapped_for=light.hung.swapped_for,
        distance_m=None if state.distance_m is None else round(state.distance_m, 4),
    )


def _as_read(stage: Stage, said: Said) -> AsRead:
    colour = said.colour
    stop = None if said.level is None else stage.camera.f_numbers(said.level)
    return AsRead(
        known_by=said.known_by,
        cct_k=None if colour is None else colour.cct_k,
        mired=None if colour is None else round(mired(colour.cct_k), 3),
        duv=None if colour is None or colour.duv is None else round(colour.duv, 6),
        level=said.level_by,
        f_number=None if stop is None else (round(stop[0], 3), round(stop[1], 3)),
        time=said.time,
        sky=said.sky,
    )


def _left(state: State, bench: Bench) -> Left:
    colour, over = state.colour, state.over_stops
    return Left(
        residual_mired=None if colour is None else rounded(colour.residual_mired, 3),
        residual_duv=None if colour is None else rounded(colour.residual_duv, 6),
        over_stops=None if over is None else (round(over[0], 4) + 0.0, round(over[1], 4) + 0.0),
        within_tolerance=None if colour is None else colour.within,
        share_within=None if colour is None else round(colour.share_within, 3),
        level_met=None if over is None else is_met(over, bench.allowed),
    )


def _cautions(stage: Stage, bench: Bench, move: Move, after: State) -> list[str]:
    """What to mind with this trim; leaving a light alone needs no word."""
    light, found = bench.hanging, list[str]()
    if move in SHEET_MOVES:
        seen = looks(after.now, [*after.sheets, *light.fixed])
        found += cautions(replace(light.lamp, name=light.entry.name), seen.filters, _loss(after))
    found += move_cautions(light.lamp, swapped=False, dimmed=move == "dim", scrims=move == "scrim")
    if move == "dim":
        found += flicker(light.lamp, stage.camera)
    wanted = light.entry.aim.look
    look = None if wanted is None else look_in(stage.loaded.plan, wanted)
    return found + (look_cautions(look) if isinstance(look, Look) else [])


def _loss(state: State) -> float:
    return 0.0 if state.colour is None else state.colour.loss_stops
