"""The plan page: the answer in a sentence, every spot, every light, the chart, the camera."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.actions.charts import lights_chart
from evencast.actions.charts_colour import shown_at
from evencast.actions.standing_words import doing, is_off_aim, left, verdict
from evencast.errors import EvencastError, Problem
from evencast.handouts.charts import described, rows, svg
from evencast.quantities import kelvin, listed
from evencast.results.exposure import LightExposure, SceneExposure, ViewAnswer
from evencast.results.hangs import HangingLight, HangsAnswer
from evencast.results.spot import SpotAnswer
from evencast.results.words import (
    say_circuit,
    say_gap,
    say_loss,
    say_over,
    say_stop_range,
    say_view,
)
from evencast.web.desk import Desk, Opened

LEAST_K, MOST_K = 2400.0, 8000.0
"""Ends of the slider."""


@dataclass(frozen=True)
class SpotCard:
    """What one spot gets."""

    name: str
    role: str
    told: str
    within: bool | None


@dataclass(frozen=True)
class LightRow:
    """One light.

    number     : of its row, as on every document
    bare, hung : how it looks on a grey card at the balance, "#rrggbb"
    doing      : what hangs
    known_by   : "rigged", "planned", or "" where nothing is
    gel, scrim : what the sheets and the scrims take, in words
    stop       : alone at the subject
    left       : against its aim
    warning    : where something has to be done; "" where not
    """

    number: int
    name: str
    what: str
    role: str
    bare: str
    hung: str
    doing: str
    filters: list[str]
    known_by: str
    gel: str
    scrim: str
    stop: str
    level: str
    left: str
    warning: str
    read: str
    answer: HangingLight


@dataclass(frozen=True)
class Chart:
    """A picture and the same as a table."""

    svg: str
    told: str
    headers: list[str]
    rows: list[list[str]]


@dataclass(frozen=True)
class SetupLink:
    """A set-up to go to; "" is the plan itself."""

    name: str
    here: bool


@dataclass(frozen=True)
class PlanPage:
    """A plan in one set-up at one balance.

    number, revision : of the document
    dragged  : whether the balance is another than the plan's own
    mired    : of the balance, for the slider
    hangs    : every number
    """

    number: int
    revision: int
    title: str
    file: str
    kit: str
    kit_number: int | None
    setup: str
    setups: list[SetupLink]
    balance: str
    balance_k: float | None
    mired: float | None
    dragged: bool
    verdict: str
    spots: list[SpotCard]
    lights: list[LightRow]
    views: list[str]
    chart: Chart | None
    camera: list[tuple[str, str]]
    circuits: list[str]
    cautions: list[tuple[str, str]]
    problems: list[Problem]
    hangs: HangsAnswer


def plan_page(desk: Desk, opened: Opened, *, setup: str | None, balance: str | None) -> PlanPage:
    """A plan as it hangs.

    setup   : its name; None for the plan's first one
    balance : in place of the set-up's; where the plan leaves it open, the middle of what is
              written
    """
    names = _setups(opened)
    chosen = setup if setup is not None else (names[0] if names else None)
    standing = desk.standing(opened, chosen or None)
    asked = balance or standing.own_balance or "4300K"
    answer = standing.at(asked if balance or standing.own_balance is None else None)
    shown = shown_at(answer.balance.x, answer.balance.y)
    lit = {each.name: each for each in answer.exposure.lights} if answer.exposure else {}
    kit = next((each for each in desk.library.documents(opened.document.bundle, "kit")), None)
    return PlanPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=answer.plan,
        file=f"{opened.document.bundle.name}/{opened.document.name}",
        kit=answer.kit,
        kit_number=None if kit is None else kit.id,
        setup=answer.setup or "",
        setups=[SetupLink(name, name == answer.setup) for name in names],
        balance=answer.balance.label,
        balance_k=answer.balance.cct_k,
        mired=answer.balance.mired,
        dragged=balance is not None,
        verdict=verdict(answer),
        spots=[_spot(each) for each in answer.spots],
        lights=[
            _row(number, each, lit.get(each.name), shown(each.bare), shown(each.filtered))
            for number, each in enumerate(answer.lights, 1)
        ],
        views=[
            f"{each.name} through {listed(each.filters) or 'no sheet'}: {say_view(each)}."
            for each in answer.views
        ],
        chart=_chart(answer),
        camera=_camera(answer),
        circuits=[f"{each.name}: {say_circuit(each)}." for each in answer.circuits],
        cautions=_cautions(answer),
        problems=answer.problems,
        hangs=answer,
    )


def _setups(opened: Opened) -> list[str]:
    from evencast.plan.document import sketch_plan

    plan = sketch_plan(opened.text)
    return [] if plan is None else [each.name for each in plan.setup]


def _spot(each: SpotAnswer) -> SpotCard:
    return SpotCard(each.name, each.role, each.verdict, each.within_tolerance)


def _row(
    number: int, each: HangingLight, lit: LightExposure | None, bare: str, hung: str
) -> LightRow:
    return LightRow(
        number=number,
        name=each.name,
        what=each.bare.kind,
        role=each.role,
        bare=bare,
        hung=hung,
        doing=doing(each),
        filters=each.hangs.filters,
        known_by=each.known_by or "",
        gel=say_loss(each.filter_stops),
        scrim=say_loss(each.scrim_stops),
        stop="" if lit is None else say_stop_range(lit.f_number),
        level="" if lit is None else say_gap(lit),
        left=left(each),
        warning=_warning(each),
        read="" if each.read is None else each.read.text,
        answer=each,
    )


def _view(each: ViewAnswer) -> str:
    return f"{each.name} through {listed(each.filters) or 'no sheet'}: {say_view(each)}."


def _warning(each: HangingLight) -> str:
    if each.harmless:
        return "harmless where it falls: leave it"
    if not is_off_aim(each):
        return ""
    wanted = f"within {each.tolerance.mired_low:g} to {each.tolerance.mired_high:+g} mired"
    return f"outside what a {each.role} may be, {wanted} and {each.tolerance.duv:g} Duv"


def _chart(answer: HangsAnswer) -> Chart | None:
    if not answer.lights:
        return None
    try:
        numbers = {each.name: number for number, each in enumerate(answer.lights, 1)}
        chart = lights_chart(answer, shown_at(answer.balance.x, answer.balance.y), numbers)
    except EvencastError:  # a balance without a colour temperature has no mired to count from
        return None
    table = rows(chart)
    return Chart(
        svg(chart, ground="screen"),
        described(chart),
        list(table.headers),
        [list(each) for each in table.rows],
    )


def _camera(answer: HangsAnswer) -> list[tuple[str, str]]:
    facts = [("Balance", answer.balance.label)]
    exposure: SceneExposure | None = answer.exposure
    if exposure is None:
        return facts
    if exposure.shot_f_number is not None:
        facts.append(("Lens", f"f/{exposure.shot_f_number:g}"))
    facts += [
        ("Exposure index", f"{exposure.exposure_index:g}"),
        ("Shutter", f"1/{1 / exposure.exposure_s:.3g} s at {exposure.frames_per_s:g} per second"),
    ]
    subject = exposure.subject
    if subject is not None:
        facts.append(("Key and fill together", say_stop_range(subject.f_number)))
        if subject.over_shot_stops is not None:
            over = subject.over_shot_stops[1]
            facts.append(("Against the shot", say_over(over)))
        if subject.key_to_fill is not None:
            facts.append(("Key to fill", f"{subject.key_to_fill.to_one[1]:.1f} : 1"))
        if subject.sum_to_fill is not None:
            facts.append(("Key + fill to fill", f"{subject.sum_to_fill.to_one[1]:.1f} : 1"))
    return facts


def _cautions(answer: HangsAnswer) -> list[tuple[str, str]]:
    """Every caution once, with the lights it belongs to."""
    of: dict[str, list[str]] = {}
    for light in answer.lights:
        for caution in light.cautions:
            of.setdefault(caution, []).append(light.name)
    for view in answer.views:
        for caution in view.cautions:
            of.setdefault(caution, []).append(view.name)
    for circuit in answer.circuits:
        for caution in circuit.load.cautions:
            of.setdefault(caution, []).append(circuit.name)
    return [(", ".join(dict.fromkeys(names)), caution) for caution, names in of.items()]


def slider_label(mired: float) -> str:
    """A place of the slider as a balance: whole fifties of kelvin."""
    return f"{round(kelvin(mired) / 50) * 50:.0f}K"
