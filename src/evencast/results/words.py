"""How answers are said, on the screen and on paper alike: short phrases, and no layout."""

from __future__ import annotations

from evencast.camera.exposure import marked_stop
from evencast.quantities import is_offset, listed, many, say_left, say_stops
from evencast.results.choice import AimAnswer, Choice, MatchAnswer, ToleranceAnswer
from evencast.results.expose import CircuitLoad, Range
from evencast.results.exposure import LightExposure, ViewAnswer
from evencast.results.hangs import HangingLight
from evencast.results.plan import Alternative, AlternativeLight, PlannedLight, SolveAnswer

AS_WANTED_STOPS = 1 / 6
"""Nearer than this a level is as wanted: half of the third that irises are marked in."""

_VERBS = (
    ("filter", "put sheets on"),
    ("dial", "dial"),
    ("dim", "dim"),
    ("scrim", "scrim"),
    ("swap", "swap"),
    ("switch off", "switch off"),
    ("leave", "leave"),
)
"""What is done to a light, and how a number of lights is told."""


def say_verdict(answer: SolveAnswer) -> str:
    """What is done in all: "balance at 4300 K; of 7 lights put sheets on 4, leave 3"."""
    moves = [each.move.split(" and ") for each in answer.lights]
    counts = [(verb, sum(move in each for each in moves)) for move, verb in _VERBS]
    doing = ", ".join(f"{verb} {count}" for verb, count in counts if count) or "leave all"
    lights = "1 light" if len(moves) == 1 else f"{len(moves)} lights"
    return f"balance at {say_balance(answer.balance)}; of {lights} {doing}"


def say_work(answer: SolveAnswer) -> str:
    """What that takes: "9 pieces, 5.7 m² of sheet, about 1 h 08 min"."""
    pieces = many(answer.pieces, "piece")
    sheet = f"{pieces}, {answer.area_m2:.1f} m² of sheet" if answer.pieces else "Nothing to cut"
    return sheet + (f", about {say_minutes(answer.minutes)}" if round(answer.minutes) else "")


def say_stays(answer: SolveAnswer) -> list[str]:
    """Sentences on lights that nothing reaches, and on those that are not as wanted."""
    told = []
    lost = [each.name for each in answer.lights if each.move == "nothing reaches it"]
    if lost:
        told.append(
            f"Nothing reaches {listed(lost)}: flag it, switch it off, or let it be a colour."
        )
    stays = [
        each.name
        for each in answer.lights
        if not each.within_tolerance and not each.harmless and each.name not in lost
    ]
    if stays:
        told.append(f"Not as wanted: {listed(stays)}; below is why, and what helps.")
    return told


def say_balance(balance: AimAnswer) -> str:
    """A balance in kelvin, and as it was written where that says more."""
    if balance.cct_k is None:
        return balance.label
    kelvin = f"{balance.cct_k:.0f} K"
    return kelvin if balance.label.endswith("K") else f"{kelvin} ({balance.label})"


def say_tolerance(answer: ToleranceAnswer) -> str:
    """A tolerance: "within 5 mired, 0.0015 Duv"."""
    if answer.mired_high == -answer.mired_low:
        return f"within {answer.mired_high:g} mired, {answer.duv:g} Duv"
    return f"{abs(answer.mired_low):g} cool to {answer.mired_high:g} warm mired, {answer.duv:g} Duv"


def say_doubtful_left(each: Choice | PlannedLight | HangingLight) -> str:
    """A residual with its doubt, or in u, v where there is no CCT to count from."""
    if each.residual_mired is None:
        return f"{each.miss_uv:.3f} u, v off" if isinstance(each, Choice) else "no CCT"
    told = say_left(each.residual_mired, each.residual_duv)
    low, high = (each.band or {}).get("residual_mired", (None, None))
    if low is None or high is None:
        return told
    number, rest = told.split(" ", 1)
    return f"{number} ± {(high - low) / 2:.0f} {rest}"


def say_inside(each: Choice | PlannedLight | HangingLight) -> str:
    """Whether the middle is inside the tolerance, and how much of the doubt."""
    told = "yes" if each.within_tolerance else "no"
    return told if each.band is None else f"{told}, {each.share_within:.0%}"


def say_stop_range(ends: Range) -> str:
    """A range in marks of an iris: "f/3.5 to f/4"."""
    low, high = marked_stop(ends[0]), marked_stop(ends[1])
    return low if low == high else f"{low} to {high}"


def say_lux(ends: Range) -> str:
    """A range of lux in three digits: "319 to 396"."""
    low, high = (f"{end:.3g}" for end in ends)
    return low if low == high else f"{low} to {high}"


def say_minutes(minutes: float) -> str:
    """How long something takes: "1 h 08 min", "5 min"."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def say_loss(stops: float) -> str:
    """What is lost, where nothing is a word too: "1 1/3 stop", "none"."""
    return say_stops(stops) if stops >= 0.05 else "none"


def say_doing(each: PlannedLight | AlternativeLight) -> str:
    """What to do with a light in one line: "dial 4300 K + quarter plus green"."""
    return " + ".join([*_set(each), *each.filters, *_dimmed(each)]) or each.move


def at_the_lamp(each: PlannedLight | AlternativeLight) -> list[str]:
    """What is done to the lamp itself, before any sheet: "swap for cool bulb", "single scrim"."""
    return _set(each) + _dimmed(each)


def _set(each: PlannedLight | AlternativeLight) -> list[str]:
    swapped = [f"swap for {each.swapped_for}"] if each.swapped_for else []
    return swapped + ([] if each.dial_k is None else [f"dial {each.dial_k:.0f} K"])


def _dimmed(each: PlannedLight | AlternativeLight) -> list[str]:
    scrims = [f"{scrim} scrim" for scrim in each.scrims]
    return scrims + ([f"dim {say_stops(each.dim_stops)}"] if each.dim_stops else [])


def say_role(each: PlannedLight, answer: SolveAnswer) -> str:
    """Role, and the aim where it is not the balance itself."""
    if each.aim.mired is None or answer.balance.mired is None:
        return f"{each.role}, aim {each.aim.label}"
    offset = each.aim.mired - answer.balance.mired, each.aim.duv - answer.balance.duv
    return f"{each.role}, to look {say_left(*offset)}" if is_offset(*offset) else each.role


def say_off(each: Alternative) -> str:
    """What stays off its aim or its level."""
    parts = [listed(each.off_colour)] if each.off_colour else []
    if each.off_level:
        parts.append(f"level of {listed(each.off_level)}")
    return "; ".join(parts) or "nothing"


def say_over(stops: float) -> str:
    """Stops over or under something: "2 1/3 stops over"."""
    return f"{say_stops(stops)} {'over' if stops >= 0 else 'under'}"


def say_gap(each: LightExposure) -> str:
    """A light's level against the one it shall have."""
    if each.gap_stops is None:
        return "not judged"
    gap = each.gap_stops[1]
    is_as_wanted = abs(gap) < AS_WANTED_STOPS
    if not each.aim_stops:
        return f"as {each.against}" if is_as_wanted else f"{say_over(-gap)} {each.against}"
    wanted = f"{say_over(each.aim_stops)} {each.against}"
    return f"as wanted: {wanted}" if is_as_wanted else f"{say_over(-gap)}; wanted: {wanted}"


def say_circuit(each: CircuitLoad) -> str:
    """What a circuit carries: "3.4 A of 12.8 A that may stay on, 9.4 A left"."""
    load = each.load
    room = f"{load.left_a:.1f} A left" if load.fits else f"too much by {-load.left_a:.1f} A"
    return f"{load.amps:.1f} A of {load.limit_a:.1f} A that may stay on, {room}"


def say_view(view: ViewAnswer) -> str:
    """How bright a view is and how it looks, with what hangs, against what it may be."""
    over = view.over_stops[1]
    at = "as bright as the shot" if abs(over) < 0.05 else f"{say_over(over)} the shot"
    told = f"{at}, {say_left(view.residual_mired, view.residual_duv)}"
    if view.may_be_stops is None:
        return told
    low, high = view.may_be_stops
    wanted = f"{say_over(low)} to {say_over(high)}"
    if low * high >= 0:
        wanted = f"{say_stops(low)} to {say_over(high)}"
    if view.within_tolerance:
        return f"{told}; wanted {wanted}, as it is"
    just = min(abs(over - low), abs(over - high)) < AS_WANTED_STOPS
    return f"{told}; wanted {wanted}, {'just missed' if just else 'missed'}"


def say_stack(choice: Choice) -> str:
    """What hangs, in words."""
    return " + ".join(choice.filters) or "no filter"


def match_verdict(answer: MatchAnswer) -> str:
    """What to put in front of the light."""
    best = answer.choices[0]
    aim = f"{answer.aim.label} (as {answer.tolerance.role}: {say_tolerance(answer.tolerance)})"
    if answer.searched == 1:
        return f"There is no sheet to correct with in {answer.kit}: the bare light is all."
    if not answer.reached:
        return f"No stack from {answer.kit} brings {answer.light} to {aim}."
    if best.filters:
        return f"Put {say_stack(best)} in front of {answer.light} for {aim}."
    return f"Leave {answer.light} bare: it is near enough to {aim}."
