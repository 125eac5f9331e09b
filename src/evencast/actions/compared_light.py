"""What differs in one light between two set-ups: how it hangs and is set, and what it reads."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from evencast.actions.compared_words import both, more_or_less, plain
from evencast.actions.hanging import Hanging
from evencast.actions.stage import Said
from evencast.actions.standing import MET_STOPS
from evencast.actions.taking import Taking
from evencast.actions.trim_words import SEEN_DUV, SEEN_MIRED
from evencast.colour import mired_duv, uv
from evencast.filters import Filter
from evencast.lights.level import moving_stops
from evencast.plan.light import Aim
from evencast.plan.light import Light as LightEntry
from evencast.plan.setup import Hung, Rigged
from evencast.quantities import mired, say_left, say_mired, say_stops, signed_stops
from evencast.results.compare import Difference

NOTHING = "nothing"


def of_entry(old: Hanging, new: Hanging) -> Iterator[Difference]:
    """What differs in what the plan says of a light: what it is taken for, and its aim."""
    was, now = old.entry, new.entry
    if _known_by(was) != _known_by(now):
        (was_mired, was_duv), (is_mired, is_duv) = (
            tuple(float(value) for value in mired_duv(uv(each.lamp.power))) for each in (old, new)
        )
        by_mired, by_duv = is_mired - was_mired, is_duv - was_duv
        sure = math.isfinite(by_mired)
        yield Difference(
            "taken for",
            _known_by(was),
            _known_by(now),
            say_left(by_mired, by_duv) if sure else "",
            mired=round(by_mired, 3) if sure else None,
            duv=round(by_duv, 6) if sure else None,
        )
    yield from plain("role", was.role, now.role, "write role = {}")
    yield from plain("aim", _aim(was.aim), _aim(now.aim), "aim at {}")
    yield from plain("count", str(was.count), str(now.count), "light {}")


def of_hanging(old: Hanging, new: Hanging) -> Iterator[Difference]:
    """What differs in what hangs on a light and how it is set."""
    if old.known_by is None or new.known_by is None:
        if old.known_by is not new.known_by:
            silent = "old" if old.known_by is None else "new"
            told = f"the {silent} says nothing of what hangs"
            yield Difference("hangs", _said_to_hang(old), _said_to_hang(new), told)
        return
    was, now = old.hung, new.hung
    yield from plain("switched", _switch(was.off), _switch(now.off), "switch it {}")
    yield from plain("lamp", was.swapped_for, now.swapped_for, "put {} in", none="its own lamp")
    yield from _sheets("filters", _names(old.sheets), _names(new.sheets))
    yield from _sheets("frost", _names(old.fixed), _names(new.fixed))
    yield from _sheets("scrims", was.scrims, now.scrims)
    yield from _dial(was.dial_k, now.dial_k)
    if was.dim_stops != now.dim_stops:
        by = was.dim_stops - now.dim_stops
        yield Difference(
            "dimmer",
            _dimmed(was.dim_stops),
            _dimmed(now.dim_stops),
            more_or_less((by, by)),
            stops=(by, by),
            back=f"set the dimmer to {_dimmed(was.dim_stops)}",
        )
    yield from _standing(old, new)


def of_reading(old: Said, new: Said, *, camera: Taking) -> Iterator[Difference]:
    """What differs in what was read of a light and, where both were read, when and under which
    sky."""
    yield from _colour_read(old, new)
    yield from _level_read(old, new, camera)
    if all(each.colour is not None or each.level is not None for each in (old, new)):
        yield from plain("time", old.time, new.time, None)
        yield from plain("sky", old.sky, new.sky, None)


def _known_by(entry: LightEntry) -> str:
    if entry.cct_k is None:
        return entry.builtin or entry.spectrum or ""
    duv = "" if entry.duv is None else f", Duv {entry.duv:+.4f}"
    tint = "" if entry.tint is None else f", tint {entry.tint}"
    return f"{entry.cct_k:g} K{duv}{tint}"


def _aim(aim: Aim) -> str:
    if aim.like is not None or aim.look is not None:
        colour = f"like {aim.like}" if aim.like is not None else f"look {aim.look}"
    else:
        colour = "white" if aim.mired == 0 and aim.duv == 0 else say_left(aim.mired, aim.duv)
    level = "" if aim.stops is None else f", {signed_stops(aim.stops)} to the key"
    return f"{colour}{level}"


def _said_to_hang(light: Hanging) -> str | None:
    return None if light.known_by is None else hangs_words(light)


def hangs_words(light: Hanging) -> str:
    """What hangs on a light, how it is set and how it stands, in words."""
    return hung_words(light.hung, _names(light.front), light.distance_m)


def hung_words(hung: Hung, sheets: Sequence[str], distance_m: float | None) -> str:
    """The same of what a set-up says, whether or not its sheets are known.

    sheets : all that stands before it, by name
    """
    parts = [] if hung.swapped_for is None else [f"swapped for {hung.swapped_for}"]
    parts += [] if hung.dial_k is None else [f"dial {hung.dial_k:.0f} K"]
    parts += [] if hung.dim_stops == 0 else [_dimmed(hung.dim_stops)]
    parts += [*sheets, *(f"{each} scrim" for each in hung.scrims)]
    parts += [] if distance_m is None else [f"{distance_m:.3g} m"]
    parts += [hung.focus] if isinstance(hung, Rigged) and hung.focus else []
    return ", ".join(parts) or NOTHING


def _names(filters: Sequence[Filter]) -> list[str]:
    return [each.name for each in filters]


def _switch(off: bool) -> str:
    return "off" if off else "on"


def _dimmed(stops: float) -> str:
    return "full" if stops == 0 else f"dimmed {say_stops(stops)}"


def _sheets(what: str, old: Sequence[str], new: Sequence[str]) -> Iterator[Difference]:
    """Sheets or scrims, and how to hang them as they were."""
    if list(old) == list(new):
        return
    out, into = Counter(new) - Counter(old), Counter(old) - Counter(new)
    steps = []
    if out:
        steps.append(f"take out {' and '.join(out.elements())}")
    if into:
        steps.append(f"put in {' and '.join(into.elements())}")
    order = not steps
    yield Difference(
        what,
        " + ".join(old) or NOTHING,
        " + ".join(new) or NOTHING,
        "the same in another order" if order else "",
        back=None if order else ", ".join(steps),
    )


def _dial(old: float | None, new: float | None) -> Iterator[Difference]:
    if old == new:
        return
    by = None if old is None or new is None else round(mired(new) - mired(old), 3)
    yield Difference(
        "dial",
        None if old is None else f"{old:g} K",
        None if new is None else f"{new:g} K",
        "" if by is None else say_mired(by),
        mired=by,
        back=None if old is None else f"dial {old:g} K",
    )


def _standing(old: Hanging, new: Hanging) -> Iterator[Difference]:
    """Where a light stands and how its lens is set."""
    was_m, now_m = old.distance_m, new.distance_m
    if was_m != now_m:
        by = None if was_m is None or now_m is None else moving_stops(from_m=was_m, to_m=now_m)
        yield Difference(
            "distance",
            _metres(was_m),
            _metres(now_m),
            "" if by is None else f"{more_or_less((by, by))} by inverse square",
            stops=both(by),
            back=None if was_m is None else f"move it to {_metres(was_m)}",
        )
    if isinstance(old.hung, Rigged) and isinstance(new.hung, Rigged):
        was, now = old.hung, new.hung
        yield from plain("focus", was.focus, now.focus, "set it to {}")
        yield from plain("height", _in_metres(was), _in_metres(now), "set it to {}")
        yield from plain("note", was.note, now.note, None)


def _in_metres(hung: Rigged) -> str | None:
    return _metres(None if hung.height_mm is None else hung.height_mm / 1000.0)


def _metres(length_m: float | None) -> str | None:
    return None if length_m is None else f"{length_m:.3g} m"


def _colour_read(old: Said, new: Said) -> Iterator[Difference]:
    was, now = _read_words(old), _read_words(new)
    if was == now:
        return
    if old.colour is None or new.colour is None:
        yield _unread("colour read", was, now)
        return
    by_mired = mired(new.colour.cct_k) - mired(old.colour.cct_k)
    duvs = (old.colour.duv, new.colour.duv)
    by_duv = None if duvs[0] is None or duvs[1] is None else duvs[1] - duvs[0]
    told = say_left(by_mired, by_duv)
    if abs(by_mired) < SEEN_MIRED and abs(by_duv or 0.0) < SEEN_DUV:
        told += ", less than is seen"
    if old.known_by != new.known_by:
        told += "; one by a meter, one by a camera, which may see it otherwise"
    yield Difference(
        "colour read",
        was,
        now,
        told,
        mired=round(by_mired, 3),
        duv=None if by_duv is None else round(by_duv, 6),
    )


def _read_words(said: Said) -> str | None:
    if said.colour is None:
        return None
    duv = "" if said.colour.duv is None else f", Duv {said.colour.duv + 0.0:+.4f}"
    by = " by the camera" if said.known_by == "camera" else ""
    return f"{said.colour.cct_k:.0f} K{duv}{by}"


def _level_read(old: Said, new: Said, camera: Taking) -> Iterator[Difference]:
    """Two levels, freed of the index and shutter that each was read at."""
    if old.level is None or new.level is None:
        if old.level is not new.level:
            yield _unread("level read", old.level_by, new.level_by)
        return
    low, high = camera.stops_above(new.level, old.level)
    same = max(abs(low), abs(high)) < MET_STOPS
    if same and old.level_by == new.level_by:
        return
    yield Difference(
        "level read",
        old.level_by,
        new.level_by,
        "the same, as far as a meter tells" if same else more_or_less((low, high)),
        stops=(round(low, 4) + 0.0, round(high, 4) + 0.0),
    )


def _unread(what: str, old: str | None, new: str | None) -> Difference:
    """Something that was read in one of the two alone."""
    missing = "old" if old is None else "new"
    back = "read it as it hangs" if new is None else None
    return Difference(what, old, new, f"not read in the {missing}", back=back)
