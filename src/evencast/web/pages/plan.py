"""The plan page: the answer in a sentence, every spot, every light, the chart, the camera."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, replace

from evencast.actions.charts import lights_chart
from evencast.actions.charts_colour import shown_at
from evencast.actions.keep import WorkedOut
from evencast.actions.standing_words import verdict
from evencast.errors import EvencastError, Problem
from evencast.itself import Itself
from evencast.plan.checks.names import check_empty_plan
from evencast.plan.document import sketch_plan
from evencast.plan.light import Light
from evencast.plan.place import folded
from evencast.plan.plan import Plan
from evencast.quantities import kelvin, listed
from evencast.results.hangs import HangsAnswer
from evencast.results.spot import SpotAnswer
from evencast.results.words import say_circuit, say_view
from evencast.web.changing import Saved
from evencast.web.desk import MIDDLE, Desk, Opened
from evencast.web.failures import plainly
from evencast.web.jobs import Job
from evencast.web.pages.chart import Chart, drawn
from evencast.web.pages.plan_entry import EntryPage, entry_page
from evencast.web.pages.plan_forms import address
from evencast.web.pages.plan_rows import LightRow, camera_facts, cautions_of, light_row
from evencast.web.pages.plan_trim import TrimPage
from evencast.web.pages.plan_ways import Solving, last_job, solving
from evencast.web.pages.within import kit_of

LEAST_K, MOST_K = 2400.0, 8000.0
"""Ends of the slider."""
STEP_K = 50
STEPPED = ("lux", "fc", "ev", "f_stop", "cd")


@dataclass(frozen=True)
class SpotCard:
    """What one spot gets."""

    name: str
    role: str
    told: str
    within: bool | None


@dataclass(frozen=True)
class SetupLink:
    """A set-up to go to."""

    name: str
    here: bool
    address: str


@dataclass(frozen=True)
class Notice:
    """What was just done.

    undo_to : number of the revision before; None where it can not be gone back to
    """

    said: str
    notes: list[str]
    undo_to: int | None
    revision: int


@dataclass(frozen=True)
class BalanceTools:
    """Where the balance stands and where it can go.

    label      : as it is asked for, "4300K"
    down, up   : the same 50 K lower and higher; "" at the ends
    back       : address of the page at the plan's own balance; "" where it is there
    """

    told: str
    label: str
    mired: float | None
    down: str
    up: str
    back: str
    own: str


@dataclass(frozen=True)
class PlanPage:
    """A plan in one set-up at one balance.

    number, revision : of the document
    asked    : the balance as the page's address has it; "" for the plan's own
    dragged  : whether the balance is another than the plan's own
    hangs    : every number
    notice   : what was just done; None where nothing was
    trim     : the answer to a reading that was just saved
    """

    number: int
    revision: int
    bundle: int
    title: str
    file: str
    kit: str
    kit_number: int | None
    setup: str
    setups: list[SetupLink]
    asked: str
    dragged: bool
    balance: BalanceTools
    verdict: str
    spots: list[SpotCard]
    lights: list[LightRow]
    views: list[str]
    chart: Chart | None
    camera: list[tuple[str, str]]
    circuits: list[tuple[str, str]]
    cautions: list[tuple[str, str]]
    problems: list[Problem]
    solving: Solving
    entry: EntryPage
    hangs: HangsAnswer
    notice: Notice | None = None
    trim: TrimPage | None = None

    @property
    def where(self) -> dict[str, str]:
        """Set-up and balance, to be sent on."""
        return {"setup": self.setup, "balance": self.asked}


def plan_page(
    desk: Desk,
    opened: Opened,
    *,
    setup: str | None = None,
    balance: str | None = None,
    with_chart: bool = True,
) -> PlanPage:
    """A plan as it hangs.

    setup   : its name; None for the plan's first one
    balance : in place of the set-up's; where the plan leaves it open, the middle of what is
              written
    with_chart : left out where a page asks for it by itself afterwards
    """
    plan = sketch_plan(opened.text)
    chosen = _chosen(plan, setup)
    standing = desk.standing(opened, chosen)
    own = standing.own_balance
    answer = desk.warm(
        ("answer", opened.path, chosen, balance or own or MIDDLE),
        lambda: standing.at(balance or (MIDDLE if own is None else None)),
    )
    setup_shown = answer.setup or ""
    view = _View(
        opened,
        plan,
        answer,
        own=own,
        asked=(balance or "") if answer.balance.label != own else "",
        job=last_job(desk, opened.document.id, setup_shown),
        solved=desk.answered(opened.document.id, setup_shown),
    )
    if view.job is not None and view.job.is_open:
        return _made(desk, view, with_chart=with_chart)
    return desk.warm(
        ("page", *view.key, with_chart), lambda: _made(desk, view, with_chart=with_chart)
    )


@dataclass(frozen=True, slots=True)
class _View:
    """What a page is made of.

    own    : the plan's own balance
    asked  : another that was asked for; "" for none
    job    : the last one of that set-up
    solved : what the last one that was done found
    """

    opened: Opened
    plan: Plan | None
    answer: HangsAnswer
    own: str | None
    asked: str
    job: Job | None
    solved: WorkedOut | None

    @property
    def key(self) -> tuple[Hashable, ...]:
        """The same for the same page, where no job runs."""
        after = None if self.job is None else (self.job.number, self.job.state)
        opened = self.opened
        of = (opened.document, opened.revision.number, opened.path, Itself(self.answer), self.asked)
        return (*of, after, Itself(self.solved))


def _made(desk: Desk, view: _View, *, with_chart: bool) -> PlanPage:
    opened, plan, answer, asked = view.opened, view.plan, view.answer, view.asked
    number, revision = opened.document.id, opened.revision.number
    where = {"setup": answer.setup or "", "balance": asked}
    return PlanPage(
        number=number,
        revision=revision,
        bundle=opened.document.bundle.id,
        title=answer.plan,
        file=f"{opened.document.bundle.name}/{opened.document.name}",
        kit=answer.kit,
        kit_number=kit_of(desk, opened),
        setup=answer.setup or "",
        setups=[
            SetupLink(each, each == answer.setup, address(number, {"setup": each}))
            for each in _setups(plan)
        ],
        asked=asked,
        dragged=bool(asked),
        balance=_balance(number, answer, where, view.own),
        verdict=verdict(answer),
        spots=[_spot(each) for each in answer.spots],
        lights=_rows(plan, answer, view.solved),
        views=_views(answer),
        chart=_chart(desk, answer) if with_chart else None,
        camera=camera_facts(answer),
        circuits=[(each.name, say_circuit(each)) for each in answer.circuits],
        cautions=cautions_of(answer),
        problems=_to_look_at(plan, answer),
        solving=solving(number, _planned_for(plan, answer.setup), answer, view.job, view.solved),
        entry=entry_page(number, revision, opened.text, "", **where),
        hangs=answer,
    )


def with_notice(page: PlanPage, saved: Saved, trim: TrimPage | None = None) -> PlanPage:
    """The page with what was just done."""
    undo = saved.before if saved.before < saved.revision.number else None
    said = saved.said if undo is not None or saved.notes else "Nothing was changed."
    notice = Notice(said, saved.notes, undo, saved.revision.number)
    return replace(page, notice=notice, trim=trim)


def _to_look_at(plan: Plan | None, answer: HangsAnswer) -> list[Problem]:
    """What is wrong; that there is no light yet the page says by itself."""
    said = {each.message for each in check_empty_plan(plan)} if plan else set()
    return plainly(each for each in answer.problems if each.message not in said)


def _views(answer: HangsAnswer) -> list[str]:
    return [
        f"{each.name} through {listed(each.filters) or 'no sheet'}: {say_view(each)}."
        for each in answer.views
    ]


def _setups(plan: Plan | None) -> list[str]:
    """Names of the set-ups."""
    return [] if plan is None else [each.name for each in plan.setup]


def _chosen(plan: Plan | None, setup: str | None) -> str | None:
    """The set-up to show: as asked, else the first; one that is gone is said by what opens it."""
    return setup or next(iter(_setups(plan)), None)


def _planned_for(plan: Plan | None, setup: str | None) -> str | None:
    there = plan.setup if plan else ()
    return next(
        (each.planned_for for each in there if folded(each.name) == folded(setup or "")), None
    )


def _rows(plan: Plan | None, answer: HangsAnswer, solved: WorkedOut | None) -> list[LightRow]:
    shown = shown_at(answer.balance.x, answer.balance.y)
    lit = {each.name: each for each in answer.exposure.lights} if answer.exposure else {}
    entries = {folded(each.name): each for each in plan.light} if plan else {}
    reasons = {each.name: each.reason for each in solved.answer.lights} if solved else {}
    fresh = solved is not None and solved.planned_for == _planned_for(plan, answer.setup)
    return [
        light_row(
            number,
            each,
            lit.get(each.name),
            (shown(each.bare), shown(each.filtered)),
            reason=reasons.get(each.name, "") if fresh else "",
            steps=_steps(entries.get(folded(each.name))),
        )
        for number, each in enumerate(answer.lights, 1)
    ]


def _steps(light: Light | None) -> bool:
    """Whether a light's level is a reading, so that it can be stepped."""
    level = None if light is None else light.level
    return level is not None and any(getattr(level, key) is not None for key in STEPPED)


def _balance(
    number: int, answer: HangsAnswer, where: dict[str, str], own: str | None
) -> BalanceTools:
    cct = answer.balance.cct_k
    place = None if cct is None else round(cct / STEP_K) * STEP_K
    return BalanceTools(
        told=f"{cct:.0f} K" if cct is not None else answer.balance.label,
        label=answer.balance.label,
        mired=answer.balance.mired,
        down="" if place is None or place <= LEAST_K else f"{place - STEP_K}K",
        up="" if place is None or place >= MOST_K else f"{place + STEP_K}K",
        back=address(number, {"setup": where["setup"]}) if where["balance"] else "",
        own=own or "",
    )


def _spot(each: SpotAnswer) -> SpotCard:
    return SpotCard(each.name, each.role, each.verdict, each.within_tolerance)


def _chart(desk: Desk, answer: HangsAnswer) -> Chart | None:
    if not answer.lights:
        return None
    try:
        numbers = {each.name: number for number, each in enumerate(answer.lights, 1)}
        chart = lights_chart(answer, shown_at(answer.balance.x, answer.balance.y), numbers)
    except EvencastError:  # a balance without a colour temperature has no mired to count from
        return None
    return desk.warm(chart, lambda: drawn(chart))


def slider_label(mired: float) -> str:
    """A place of the slider as a balance: whole fifties of kelvin.

    Raises  EvencastError for a place that is beyond its ends
    """
    if not 1e6 / MOST_K - 1 <= mired <= 1e6 / LEAST_K + 1:
        raise EvencastError(
            f"{mired:g} mired is no place of the balance's slider",
            where="mired",
            remedy=f"Write {1e6 / MOST_K:.0f} to {1e6 / LEAST_K:.0f}, or balance=4300K.",
        )
    return f"{round(kelvin(mired) / STEP_K) * STEP_K:.0f}K"
