"""The trim of a light's level: scrims, the dimmer, neutral density, or the distance."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from evencast.actions.hanging import FILAMENTS
from evencast.actions.standing import MET_STOPS
from evencast.actions.trim_bench import Bench, State, Trim, darker, movable, say_change
from evencast.lights.kinds import TUBES
from evencast.lights.level import SCRIM_STOPS, moving_stops
from evencast.lights.light import DISCHARGE_KINDS
from evencast.plan.tolerance import Allowed
from evencast.quantities import say_stops
from evencast.results.expose import Range
from evencast.solver.trim import one_sheet_changes

DIM_STEPS_PER_STOP = 3
MOST_DIM_STOPS = 4.0

NEAREST, FURTHEST = 0.5, 2.0
"""How far a light is moved for a trim, as a share of where it stands."""

UNDIMMED_KINDS = DISCHARGE_KINDS | {"tube", *TUBES}
STANDING_FITTINGS = ("fixture", "panel", None)
"""What stands on its own feet, and so can be moved."""


def level_trim(bench: Bench, before: State) -> Trim:
    """The one change that brings the level nearest to what is wanted; leaving it, where it is as
    wanted or nothing that may be done is better."""
    leave = Trim("leave", "leave", before)
    if is_met(before.over_stops, bench.allowed):
        return leave
    warms = bench.hanging.lamp.kind in FILAMENTS
    ways = (_scrimmed, _neutral, _dimmed) if warms else (_scrimmed, _dimmed, _neutral)
    found = [each for each in (way(bench, before) for way in ways) if each is not None]
    met = [each for each in found if is_met(each.after.over_stops, bench.allowed)]
    plainly = [each for each in met if _gain(before, each) >= MET_STOPS]
    moved = _moved(bench, before)
    nearer = sorted((each for each in found if _gain(before, each) >= MET_STOPS), key=_miss)
    halved = [each for each in nearer if _miss(each) <= abs(middle(before.over_stops)) / 2.0]
    in_order = [*plainly, *halved, *([] if moved is None else [moved]), *met, *nearer, leave]
    return in_order[0]


def is_met(over_stops: Range | None, allowed: Allowed) -> bool:
    """Whether a level is as wanted, as far as a meter in thirds can tell; also where it is not
    known."""
    return _off(over_stops) <= max(MET_STOPS, allowed.stops) + 1e-9


def middle(over_stops: Range | None) -> float:
    """The middle of a level's range. [stop]"""
    return 0.0 if over_stops is None else sum(over_stops) / 2.0


def _off(over_stops: Range | None) -> float:
    """How far a level is off at least. [stop]"""
    return 0.0 if over_stops is None else max(over_stops[0], -over_stops[1], 0.0)


def _miss(trim: Trim) -> float:
    return abs(middle(trim.after.over_stops))


def _gain(before: State, trim: Trim) -> float:
    return abs(middle(before.over_stops)) - _miss(trim)


def _scrimmed(bench: Bench, before: State) -> Trim | None:
    """One scrim in, out, or in the place of another."""
    if not bench.may("scrim"):
        return None
    found = [_scrims(before, [*before.scrims, each], f"{each} in") for each in ("single", "double")]
    for out in dict.fromkeys(before.scrims):
        rest = list(before.scrims)
        rest.remove(out)
        found.append(_scrims(before, rest, f"{out} out"))
        found += [
            _scrims(before, [*rest, into], f"{into} in the place of the {out}")
            for into in ("single", "double")
            if into != out
        ]
    return min(found, key=_miss)


def _scrims(before: State, scrims: list[str], text: str) -> Trim:
    over = darker(before.over_stops, *scrims_take(before.scrims, scrims))
    return Trim("scrim", text, replace(before, scrims=tuple(scrims), over_stops=over))


def scrims_take(before: Sequence[str], after: Sequence[str]) -> Range:
    """What other scrims take more than those before, least and most. [stop; negative gives back]"""
    if not before and not after:
        return 0.0, 0.0
    come, gone = Counter(after) - Counter(before), Counter(before) - Counter(after)
    least = sum(SCRIM_STOPS[each][0] for each in come.elements())
    most = sum(SCRIM_STOPS[each][1] for each in come.elements())
    return (
        least - sum(SCRIM_STOPS[each][1] for each in gone.elements()),
        most - sum(SCRIM_STOPS[each][0] for each in gone.elements()),
    )


def _dimmed(bench: Bench, before: State) -> Trim | None:
    """The dimmer in thirds of a stop; none where that spoils the colour or is not for this lamp."""
    if not bench.may("dim") or bench.hanging.lamp.kind in UNDIMMED_KINDS:
        return None
    wanted = before.dim_stops + middle(before.over_stops)
    dim_stops = min(
        max(round(wanted * DIM_STEPS_PER_STOP) / DIM_STEPS_PER_STOP, 0.0), MOST_DIM_STOPS
    )
    taken = dim_stops - before.dim_stops
    if abs(taken) < MET_STOPS:
        return None
    text = f"dim {say_stops(taken)}" if taken > 0 else f"bring it up {say_stops(taken)}"
    now = bench.hanging.reset(before.now, dial_k=before.dial_k, dim_stops=dim_stops)
    colour = before.colour and bench.colour(now, before.sheets)
    if colour is not None and before.colour is not None and colour.within < before.colour.within:
        return None
    return Trim(
        "dim",
        text,
        replace(
            before,
            now=now,
            dim_stops=dim_stops,
            colour=colour,
            over_stops=darker(before.over_stops, taken, taken),
        ),
    )


def _neutral(bench: Bench, before: State) -> Trim | None:
    """One sheet of neutral density in, out, or in the place of another."""
    if not bench.may("filter"):
        return None
    changes = one_sheet_changes(
        before.sheets,
        [each for each in bench.at_hand if each.role == "ND"],
        movable=[each for each in movable(before.sheets) if each.role == "ND"],
        layers=bench.layers,
    )
    found = bench.colours(before.now, before.sheets, changes)
    trims = []
    for change, colour in list(zip(changes, found, strict=True))[1:]:
        lost = colour.loss_stops - found[0].loss_stops
        if colour.loss_stops > max(bench.most_loss_stops, found[0].loss_stops):
            continue
        if before.colour is not None and colour.within < before.colour.within:
            continue
        after = replace(
            before,
            sheets=tuple(change.of(before.sheets)),
            colour=before.colour and colour,
            over_stops=darker(before.over_stops, lost, lost),
        )
        trims.append(Trim(change.kind, say_change(change, before.sheets), after))
    return min(trims, key=_miss, default=None)


def _moved(bench: Bench, before: State) -> Trim | None:
    """The light nearer or further, by inverse square."""
    lamp, from_m = bench.hanging.lamp, before.distance_m
    standing = bench.hanging.entry.fitting or lamp.fitting or None
    if from_m is None or standing not in STANDING_FITTINGS or lamp.kind == "daylight":
        return None
    wanted = middle(before.over_stops)
    to_m = float(f"{from_m * 2.0 ** (wanted / 2.0):.2g}")
    if not NEAREST <= to_m / from_m <= FURTHEST:
        return None
    gain = moving_stops(from_m=from_m, to_m=to_m)
    text = f"{'closer' if to_m < from_m else 'further'}, from {from_m:.3g} m to {to_m:g} m"
    return Trim(
        "move",
        text,
        replace(before, distance_m=to_m, over_stops=darker(before.over_stops, -gain, -gain)),
    )
