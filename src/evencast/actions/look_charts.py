"""`look plan`, `look spectra`, `look kit`, `look colours`: the charts that commands ask for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Literal

from evencast.actions import resolve
from evencast.actions.balance import TINT_NOTE, parse_balance
from evencast.actions.cautions import cautions
from evencast.actions.charts import (
    Numbers,
    Scene,
    colours_chart,
    lights_chart,
    plan_numbers,
    residuals_chart,
)
from evencast.actions.charts_colour import Shown, shown_at, shown_beside
from evencast.actions.charts_levels import ladder_chart
from evencast.actions.charts_sheets import (
    lights_in_uv,
    losses_chart,
    power_chart,
    transmittance_chart,
)
from evencast.actions.doubt import light_notes, looks, middle
from evencast.actions.drawn import check_picture_file, write_picture
from evencast.actions.kit import load_kit
from evencast.actions.planned import load_plan
from evencast.colour import xy_of_xyz, xyz
from evencast.errors import EvencastError, Problem
from evencast.filters import Filter
from evencast.handouts.charts import Chart, Ground, rows, svg, with_shapes
from evencast.lights import Light
from evencast.results.charts import ChartAnswer
from evencast.results.minded import minded, of_lights
from evencast.solver.scene import Progress

PlanChart = Literal["lights", "colours", "ladder", "residuals"]
Of = Literal["power", "transmittance"]

PLAN_CHARTS: dict[str, Callable[[Scene, Shown, Numbers], Chart]] = {
    "lights": lights_chart,
    "colours": colours_chart,
    "ladder": ladder_chart,
    "residuals": residuals_chart,
}


def look_plan(
    path: Path,
    *,
    setup: str | None,
    chart: PlanChart,
    hangs: bool,
    balance: str | None,
    ground: Ground,
    to: Path | None,
    progress: Progress | None = None,
) -> ChartAnswer:
    """A chart of the plan, solved, or as it hangs.

    hangs   : as it hangs in the set-up, nothing solved
    balance : of what hangs, in place of the set-up's and the plan's
    """
    check_picture_file(to)
    answer = _scene(path, setup=setup, hangs=hangs, balance=balance, progress=progress)
    numbers = plan_numbers(load_plan(path, setup=setup).plan)
    shown = shown_at(answer.balance.x, answer.balance.y)
    drawn = PLAN_CHARTS[chart](answer, shown, numbers)
    notes = answer.exposure.notes if chart == "ladder" and answer.exposure else []
    return _answer(
        chart,
        drawn,
        ground=ground,
        to=to,
        notes=notes,
        minded=_grouped(answer),
        problems=answer.problems,
    )


def _scene(
    path: Path, *, setup: str | None, hangs: bool, balance: str | None, progress: Progress | None
) -> Scene:
    if balance is not None and not hangs:
        raise EvencastError(
            "a plan that is solved has its own balance",
            where="--balance",
            remedy="Add --hangs to see what hangs at another balance, or change the plan's.",
        )
    if hangs:
        from evencast.actions.hangs import hangs as as_it_hangs

        return as_it_hangs(path, setup=setup, balance=balance)
    from evencast.actions.solve import solve

    return solve(path, setup=setup, progress=progress)


def _grouped(answer: Scene) -> list[str]:
    """Every caution once, with the lights it belongs to."""
    found = minded(of_lights(answer)).items()
    return [f"{', '.join(names)}: {caution}" for caution, names in found]


def look_spectra(
    light_text: str,
    filter_texts: Sequence[str],
    *,
    of: Of,
    balance: str | None,
    kit: Path | None,
    kind: str | None,
    ground: Ground,
    to: Path | None,
) -> ChartAnswer:
    """The spectra of a light, bare and through a stack, or what the sheets let through."""
    check_picture_file(to)
    loaded = load_kit(kit) if kit else None
    light = resolve.light(light_text, kind)
    filters = [resolve.filter_named(text, loaded) for text in filter_texts]
    shown, notes = _shown(balance)
    draw = power_chart if of == "power" else transmittance_chart
    drawn = draw(light, filters, shown or shown_beside(light.power))
    loss_stops = middle(looks(light, filters).loss_stops)
    notes += light_notes(light, from_file=resolve.is_path(light_text))
    minded = cautions(light, filters, loss_stops)
    return _answer("spectra", drawn, ground=ground, to=to, notes=notes, minded=minded)


def look_kit(
    path: Path,
    *,
    light_text: str | None,
    kind: str | None,
    balance: str | None,
    ground: Ground,
    to: Path | None,
) -> ChartAnswer:
    """What every filter of a kit costs and does, in front of a light or of its own white."""
    check_picture_file(to)
    kit = load_kit(path)
    light = None if light_text is None else resolve.light(light_text, kind)
    shown, notes = _shown(balance)
    drawn = losses_chart(kit, light, shown)
    if light is not None and light_text is not None:
        notes += light_notes(light, from_file=resolve.is_path(light_text))
    minded = [] if light is None else _minded(light, kit.filters)
    return _answer(
        "kit", drawn, ground=ground, to=to, notes=notes, minded=minded, problems=kit.problems
    )


def _minded(light: Light, filters: Sequence[Filter]) -> list[str]:
    """Every caution that some filter in front of the light asks for."""
    found = [
        text
        for each in filters
        for text in cautions(light, [each], middle(looks(light, [each]).loss_stops))
    ]
    return list(dict.fromkeys(found))


def look_colours(
    light_texts: Sequence[str],
    *,
    kind: str | None,
    balance: str,
    ground: Ground,
    to: Path | None,
) -> ChartAnswer:
    """Where lights lie in u', v', about the balance."""
    check_picture_file(to)
    lights = [resolve.light(text, kind) for text in light_texts]
    at = parse_balance(balance)
    x, y = (float(each) for each in xy_of_xyz(xyz(at.power)))
    drawn = lights_in_uv(lights, shown_at(x, y), balance=(x, y), told=str(at))
    notes = [TINT_NOTE] if at.tint is not None else []
    for text, light in zip(light_texts, lights, strict=True):
        notes += light_notes(light, from_file=resolve.is_path(text))
    return _answer("colours", drawn, ground=ground, to=to, notes=notes)


def _shown(balance: str | None) -> tuple[Shown | None, list[str]]:
    """How colours are shown at a balance, None where none is named; and what to know of it."""
    if balance is None:
        return None, []
    at = parse_balance(balance)
    return shown_beside(at.power), [TINT_NOTE] if at.tint is not None else []


def _answer(
    kind: str,
    chart: Chart,
    *,
    ground: Ground,
    to: Path | None,
    notes: Sequence[str] = (),
    minded: Sequence[str] = (),
    problems: Sequence[Problem] = (),
) -> ChartAnswer:
    table = rows(chart)
    drawn = with_shapes(chart) if to is not None and to.suffix.casefold() == ".png" else chart
    return ChartAnswer(
        drawn=kind,
        chart=chart,
        headers=list(table.headers),
        rows=[list(row) for row in table.rows],
        notes=list(notes),
        cautions=list(minded),
        problems=list(problems),
        written_to=write_picture(to, lambda: svg(drawn, ground=ground)),
    )
