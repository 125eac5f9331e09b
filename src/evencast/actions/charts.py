"""Charts from answers: the numbers of an answer, as a chart draws them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from evencast.actions.charts_colour import Shown, prime, say_colour
from evencast.errors import EvencastError
from evencast.handouts.charts.colours import ColoursChart, PlacedLight
from evencast.handouts.charts.moves import Colour, LightMove, LightsChart
from evencast.handouts.charts.residuals import Residual, ResidualsChart
from evencast.handouts.charts.values import Ends, Tolerance
from evencast.plan.plan import Plan
from evencast.results.choice import AimAnswer, ToleranceAnswer
from evencast.results.hangs import HangingLight, HangsAnswer
from evencast.results.light import LightReading
from evencast.results.plan import PlannedLight, SolveAnswer

Numbers = Mapping[str, int]
"""The number of each light by its name; see `plan_numbers`."""

Scene = SolveAnswer | HangsAnswer
"""A plan as it was solved, or as it hangs."""
SceneLight = PlannedLight | HangingLight


def lights_chart(answer: Scene, shown: Shown, numbers: Numbers) -> LightsChart:
    """Every light of a plan, before and after."""
    balance = answer.balance
    if balance.mired is None or balance.cct_k is None:
        raise EvencastError(
            "the balance has no colour temperature to count mired from",
            where=answer.plan,
            remedy="Draw --chart colours, which needs none, or give the camera another balance.",
        )
    return LightsChart(
        title=f"{answer.plan}: every light, bare and as it hangs",
        balance=balance.label,
        balance_k=balance.cct_k,
        lights=tuple(_move(numbers[each.name], each, balance, shown) for each in lights_of(answer)),
    )


def _move(number: int, each: SceneLight, balance: AimAnswer, shown: Shown) -> LightMove:
    off = is_off(each)
    band = each.band or {}
    return LightMove(
        number=number,
        name=each.name,
        bare=_beside(each.bare, balance, shown),
        hung=None if off else _beside(each.filtered, balance, shown),
        changed=is_changed(each),
        band_mired=None if off else _less(band.get("mired"), balance.mired, 3),
        band_duv=None if off else _less(band.get("duv"), balance.duv, 6),
        aim_mired=_minus(each.aim.mired, balance.mired, 3),
        aim_duv=round(each.aim.duv - balance.duv, 6),
        tolerance=tolerance(each.tolerance),
        inside=each.within_tolerance,
    )


def plan_numbers(plan: Plan) -> dict[str, int]:
    """The number of every light by its name, on every document and in every chart: its place in
    the plan, from 1, views counted, so that no set-up changes it."""
    return {light.name: place for place, light in enumerate(plan.light, 1)}


def lights_of(answer: Scene) -> Sequence[SceneLight]:
    """The lights of a plan, in its order."""
    return answer.lights


def is_off(each: SceneLight) -> bool:
    """Whether a light is switched off."""
    return each.move == "switch off" if isinstance(each, PlannedLight) else each.off


def is_changed(each: SceneLight) -> bool:
    """Whether a light looks otherwise than bare: by sheets, dial, dimmer or another lamp."""
    set_ = each if isinstance(each, PlannedLight) else each.hangs
    sheets = [*set_.filters, *([] if isinstance(set_, PlannedLight) else set_.frost)]
    return bool(sheets or set_.swapped_for or set_.dim_stops or set_.dial_k is not None)


def tolerance(answer: ToleranceAnswer) -> Tolerance:
    """A tolerance of an answer, for a chart."""
    return Tolerance(answer.role, answer.mired_low, answer.mired_high, answer.duv)


def _beside(reading: LightReading, balance: AimAnswer, shown: Shown) -> Colour:
    return Colour(
        mired=_minus(reading.mired, balance.mired, 3),
        duv=_minus(reading.duv, balance.duv, 6),
        fill=shown(reading),
    )


def _minus(value: float | None, other: float | None, digits: int) -> float | None:
    return None if value is None or other is None else round(value - other, digits) + 0.0


def _less(ends: Ends | None, other: float | None, digits: int) -> Ends | None:
    if ends is None:
        return None
    return _minus(ends[0], other, digits), _minus(ends[1], other, digits)


def residuals_chart(answer: Scene, shown: Shown, numbers: Numbers) -> ResidualsChart:
    """What every light of a plan leaves against its aim."""
    return ResidualsChart(
        title=f"{answer.plan}: what each light leaves against its aim",
        lights=tuple(
            Residual(
                number=numbers[each.name],
                name=each.name,
                mired=each.residual_mired,
                duv=each.residual_duv,
                band_mired=(each.band or {}).get("residual_mired"),
                band_duv=(each.band or {}).get("residual_duv"),
                tolerance=tolerance(each.tolerance),
                inside=each.within_tolerance,
                off=is_off(each),
                fill=shown(each.filtered),
            )
            for each in lights_of(answer)
        ),
    )


def colours_chart(answer: Scene, shown: Shown, numbers: Numbers) -> ColoursChart:
    """Where the lights of a plan lie in u', v'."""
    balance = answer.balance
    aims = [
        (each.aim.mired, each.aim.duv, tolerance(each.tolerance))
        for each in lights_of(answer)
        if each.aim.mired is not None and not is_off(each)
    ]
    return ColoursChart(
        title=f"{answer.plan}: the lights in u', v'",
        lights=tuple(
            PlacedLight(
                number=numbers[each.name],
                name=each.name,
                bare=prime(each.bare.x, each.bare.y),
                hung=_hung_place(each),
                bare_fill=shown(each.bare),
                fill=shown(each.filtered),
                told=_colour_told(each),
            )
            for each in lights_of(answer)
        ),
        balance=prime(balance.x, balance.y),
        balance_told=balance.label,
        tolerances=tuple(dict.fromkeys(aims)),
    )


def _hung_place(each: SceneLight) -> tuple[float, float] | None:
    """u', v' as it hangs, where that is another colour than bare."""
    if is_off(each) or not is_changed(each):
        return None
    return prime(each.filtered.x, each.filtered.y)


def _colour_told(each: SceneLight) -> str:
    bare = say_colour(each.bare)
    if is_off(each):
        return f"bare {bare}; switched off"
    return f"bare {bare}; {say_colour(each.filtered)}" if is_changed(each) else f"bare {bare}"
