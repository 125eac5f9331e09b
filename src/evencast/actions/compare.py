"""`compare`: two plans or set-ups lamp by lamp, and how to get back to the old one."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from evencast.actions.compared_camera import of_camera
from evencast.actions.compared_light import hangs_words, of_entry, of_hanging, of_reading
from evencast.actions.hanging import Hanging, set_light
from evencast.actions.stage import NOT_READ, Said, Stage, staged
from evencast.actions.trim import benched, standing
from evencast.actions.trim_bench import Bench, Colour, State, darker
from evencast.actions.trim_colour import colour_trim
from evencast.actions.trim_level import is_met, level_trim, middle, scrims_take
from evencast.colour import uv
from evencast.errors import EvencastError
from evencast.filters import stack
from evencast.lights import Light
from evencast.lights.level import moving_stops
from evencast.plan.setup import Hung
from evencast.quantities import say_left, say_stops
from evencast.results.compare import CompareAnswer, ComparedLight, Difference, Side
from evencast.results.expose import Range
from evencast.solver.aim import aim_at_kelvin, aim_at_uv

CONDITIONS = frozenset({"time", "sky"})
"""Under which something was read: told beside what differs, and no difference by themselves."""


@dataclass(frozen=True, slots=True, eq=False)
class _Pair:
    """One light in both, with what was read of it."""

    old: Hanging
    new: Hanging
    was: Said
    now: Said


def compare(
    old: Path, new: Path | None, *, setup: str | None = None, with_setup: str | None = None
) -> CompareAnswer:
    """What differs between two plans or set-ups, and what to do to get back to the old.

    new        : left out, the old plan again
    setup      : set-up of both; left out, each plan's only one
    with_setup : set-up of the new, where it is called otherwise
    Raises  EvencastError where there is nothing to compare with
    """
    if new is None and with_setup is None:
        raise EvencastError(
            "there is nothing to compare with",
            where="compare",
            remedy="Name a second plan, or with --with another set-up of this one.",
        )
    before = staged(old, setup=setup)
    after = staged(new or old, setup=with_setup or setup)
    lights = [_light(before, after, each.name) for each in before.loaded.plan.light]
    lights += [
        _only_new(after, each.name)
        for each in after.loaded.plan.light
        if before.loaded.plan.light_named(each.name) is None
    ]
    sides = (before, after) if new is not None else (before,)
    return CompareAnswer(
        old=_side(before),
        new=_side(after),
        camera=list(of_camera(before, after)),
        lights=lights,
        notes=_notes(before, after, lights),
        problems=[problem for side in sides for problem in side.loaded.problems],
    )


def _side(stage: Stage) -> Side:
    return Side(stage.loaded.plan.name, stage.setup.name if stage.setup else None)


def _light(before: Stage, after: Stage, name: str) -> ComparedLight:
    """One light of the old plan beside the same in the new one."""
    old = before.hanging(name)
    if after.loaded.plan.light_named(name) is None:
        then = [] if old.hung.off else [f"write it into the new plan and light it: {_hung(old)}"]
        return ComparedLight(name, old.entry.role, "gone", [], then)
    new = after.hanging(name)
    was = before.said(old, sensor=False) or NOT_READ
    now = after.said(new, sensor=False) or NOT_READ
    pair = _Pair(old, new, was, now)
    found = [*of_entry(old, new), *of_hanging(old, new)]
    found += of_reading(was, now, camera=after.camera)
    return ComparedLight(
        name,
        new.entry.role,
        "differs" if {each.what for each in found} - CONDITIONS else "same",
        found,
        _then(before, after, pair, found),
    )


def _only_new(stage: Stage, name: str) -> ComparedLight:
    light = stage.hanging(name)
    then = [] if light.hung.off else ["switch it off or flag it: the old had it not"]
    return ComparedLight(light.entry.name, light.entry.role, "new", [], then)


def _hung(light: Hanging) -> str:
    return "no word on what hung" if light.known_by is None else hangs_words(light)


def _then(before: Stage, after: Stage, pair: _Pair, found: list[Difference]) -> list[str]:
    """What the readings ask for once the light hangs as it did; nothing where they agree, or
    where too little is known."""
    differing = {each.what for each in found}
    if pair.old.hung.off or pair.new.hung.off or None in (pair.old.known_by, pair.new.known_by):
        return []
    if "lamp" in differing and differing & {"colour read", "level read"}:
        return ["with its lamp as it was, read it again"]
    if not found:
        return []
    try:
        return _steps(before, after, pair, differing)
    except EvencastError as error:
        return [f"it cannot be worked out how it then reads: {error.what}"]


def _steps(before: Stage, after: Stage, pair: _Pair, differing: set[str]) -> list[str]:
    """The trims that are left once everything hangs as it did, by how it reads now."""
    read = pair.was.colour is not None and pair.now.colour is not None
    back = _as_it_hung(pair)
    now = _now(pair, back)
    bench = _bench(before, after, back, pair, now, read=read)
    state = standing(bench, now, read=read, over_stops=None)
    over = None if "focus" in differing else _over(after, pair, bench, now)
    state = replace(state, over_stops=over)
    of_colour = colour_trim(bench, state)
    of_level = level_trim(bench, of_colour.after)
    steps = _colour_steps(state, of_colour.text, of_colour.after.colour, rehung=_rehung(differing))
    if of_level.move != "leave":
        steps.append(f"{of_level.text}: its level is then as it was")
    elif not is_met(of_level.after.over_stops, bench.allowed):
        left = middle(of_level.after.over_stops)
        side = "over" if left > 0 else "under"
        steps.append(
            f"its level stays {say_stops(left)} {side} the old: nothing the plan allows does it"
        )
    if "focus" in differing and "level read" in differing:
        steps.append("with its lens as it was, read its level again")
    return steps


def _rehung(differing: set[str]) -> bool:
    return bool(differing & {"filters", "frost", "dial", "dimmer"})


def _colour_steps(state: State, text: str, after: Colour | None, *, rehung: bool) -> list[str]:
    """What is left of the colour against the old reading, and the trim of it."""
    if state.colour is None or after is None:
        return []
    left = say_left(state.colour.residual_mired, state.colour.residual_duv)
    steps = []
    if rehung or not state.colour.within:
        how = "hung so, it reads" if rehung else "it reads"
        where = "near enough to it" if state.colour.within else "not near enough"
        steps.append(f"{how} {left} beside the old: {where}")
    if text != "leave":
        then = say_left(after.residual_mired, after.residual_duv)
        steps.append(f"{text}: it is then {then} beside the old")
    elif not state.colour.within:
        steps.append("no one change that the plan allows with this kit brings it nearer")
    return steps


def _as_it_hung(pair: _Pair) -> Hanging:
    """The new light with what hung on the old; a dial that was not noted stays."""
    was, now = pair.old.hung, pair.new.hung
    dial_k = now.dial_k if was.dial_k is None else was.dial_k
    hung: Hung = was.model_copy(update={"dial_k": dial_k})
    light = set_light(pair.new.lamp, dial_k=dial_k, dim_stops=was.dim_stops)
    return replace(pair.new, sheets=pair.old.sheets, light=light, hung=hung)


def _now(pair: _Pair, back: Hanging) -> Light:
    """The bare light that explains what is read now, set as it was."""
    colour = pair.now.colour
    if colour is None:
        return back.light
    now = pair.new.explained_by(colour)
    return pair.new.reset(now, dial_k=back.hung.dial_k, dim_stops=back.hung.dim_stops)


def _bench(
    before: Stage, after: Stage, back: Hanging, pair: _Pair, now: Light, *, read: bool
) -> Bench:
    """The old reading as the aim, by the tolerance of the old role."""
    was = pair.was.colour
    aim = aim_at_uv("as it is", uv(now.power * stack(back.front)))
    if read and was is not None:
        duv = aim.duv if was.duv is None else was.duv
        aim = aim_at_kelvin("as it was read", was.cct_k, duv)
    bench = benched(after, back, aim)
    return replace(bench, allowed=before.loaded.plan.allowed(pair.old.entry.role))


def _over(stage: Stage, pair: _Pair, bench: Bench, now: Light) -> Range | None:
    """How much brighter than it was the light will be, hung as it was; None where it was not
    read twice."""
    if pair.was.level is None or pair.now.level is None:
        return None
    over: Range | None = stage.camera.stops_above(pair.now.level, pair.was.level)
    old, new = pair.old, pair.new
    bare_now = new.light if pair.now.colour is None else new.explained_by(pair.now.colour)
    sheets = (
        bench.colour(now, old.sheets).loss_stops - bench.colour(bare_now, new.sheets).loss_stops
    )
    over = darker(over, sheets, sheets)
    over = darker(over, *scrims_take(new.hung.scrims, old.hung.scrims))
    dimmed = old.hung.dim_stops - new.hung.dim_stops
    over = darker(over, dimmed, dimmed)
    if old.distance_m is not None and new.distance_m is not None:
        gain = moving_stops(from_m=new.distance_m, to_m=old.distance_m)
        over = darker(over, -gain, -gain)
    return over


def _notes(before: Stage, after: Stage, lights: list[ComparedLight]) -> list[str]:
    found = []
    planned = [
        each.name
        for each in lights
        if each.state in ("same", "differs") and _is_planned(before, after, each.name)
    ]
    if planned:
        found.append(
            f"Nothing is written as rigged, so what was planned is taken: {', '.join(planned)}."
        )
    if any(each.what == "distance" and each.stops for one in lights for each in one.differences):
        found.append(
            "Distances by inverse square, which holds from about 5 times a light's size: meter it."
        )
    return found


def _is_planned(before: Stage, after: Stage, name: str) -> bool:
    return any(stage.hanging(name).known_by == "planned" for stage in (before, after))
