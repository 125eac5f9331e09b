"""`pocket`: the job as one page for a phone, to be read without a network."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.actions.cautions import SCRIM
from evencast.actions.flicker import say_time
from evencast.actions.handouts.cards import NO_LIGHT, card_of
from evencast.actions.handouts.job import Job, Made, Part
from evencast.actions.handouts.kit_rows import kit_rows
from evencast.actions.handouts.pocket_tables import balance_field, stack_tables, tables_say
from evencast.errors import Problem
from evencast.handouts.anchor import anchor
from evencast.handouts.cards import Row, Step
from evencast.handouts.pocket import Fact, PocketCard, PocketPage, SetupPart, pocket_page
from evencast.plan.light import Light
from evencast.results.plan import SolveAnswer
from evencast.results.words import (
    say_balance,
    say_circuit,
    say_stays,
    say_stop_range,
    say_verdict,
    say_work,
)

FILE = "pocket.html"

FILTERS_SAY = (
    "What each filter does to the lamp it is meant for, as evencast through tells it: the middle "
    "of what it may do. Nine in ten of what a filter that was not measured may do lie between the "
    "two numbers behind it. On another lamp it does something else.",
)


def made(job: Job) -> list[Made]:
    """The page of every set-up in one file."""
    return [Made(FILE, pocket_page(page_of(job)), [])]


def page_of(job: Job) -> PocketPage:
    """What the page says."""
    kit = job.parts[0].loaded.kit
    tables, no_tables = stack_tables(job)
    return PocketPage(
        title=job.name,
        under=[each for each in (job.wishes.date, job.wishes.author) if each],
        empty=NO_LIGHT,
        kit=kit.name,
        setups=[_setup(job, part) for part in job.parts],
        tables=tables,
        tables_say=tables_say(job) if tables else [],
        balance=balance_field(job),
        no_tables=no_tables,
        filters=kit_rows(kit),
        filters_say=FILTERS_SAY,
        scrim_caution=SCRIM,
        problems=list(
            dict.fromkeys(_said(each) for part in job.parts for each in part.answer.problems)
        ),
        says=_says(job),
    )


def _setup(job: Job, part: Part) -> SetupPart:
    answer = part.answer
    return SetupPart(
        name=part.name,
        verdict=_verdict(answer) if answer.lights else answer.why,
        why=answer.why if answer.lights else "",
        gets=[
            Fact("Balance", say_balance(answer.balance)),
            *_camera(part),
            *_spots(part),
            *_circuits(part),
        ],
        cards=[_card(job, part, light) for light in part.loaded.plan.light],
    )


def _verdict(answer: SolveAnswer) -> str:
    told = " ".join([f"{say_verdict(answer)}. {say_work(answer)}.", *say_stays(answer)])
    return told[0].upper() + told[1:]


def _camera(part: Part) -> list[Fact]:
    exposure = part.answer.exposure
    if exposure is None:
        return []
    stop = "" if exposure.shot_f_number is None else f"f/{exposure.shot_f_number:g}, "
    told = f"{stop}index {exposure.exposure_index:g}, {say_time(exposure.exposure_s)}"
    found = [Fact("Camera", f"{told}, {exposure.frames_per_s:g} frames a second")]
    if exposure.subject is not None:
        found.append(Fact("Key and fill", say_stop_range(exposure.subject.f_number)))
    return found


def _spots(part: Part) -> list[Fact]:
    return [
        Fact(each.name, "; ".join([each.verdict, *_stop(each.f_number)]))
        for each in part.answer.spots
    ]


def _stop(f_number: tuple[float, float] | None) -> list[str]:
    return [] if f_number is None else [say_stop_range(f_number)]


def _circuits(part: Part) -> list[Fact]:
    return [
        Fact(each.name, " ".join([f"{say_circuit(each)}.", *each.load.notes]))
        for each in part.answer.circuits
    ]


def _card(job: Job, part: Part, light: Light) -> PocketCard:
    card = card_of(job, part, light)
    planned = next((each for each in part.answer.lights if each.name == light.name), None)
    says = []
    if planned is not None:
        says = [planned.reason]
        says += [planned.softness.text] if planned.softness else []
        if planned.cures:
            helps = "; ".join(each.text for each in planned.cures)
            says.append(f"To its level, cheapest first: {helps}.")
        says += planned.notes
    return PocketCard(
        anchor=anchor(light.name, part.name),
        card=card,
        line=_line(card.steps),
        readings=[fact for row in card.rows for fact in _reading(row, card.taken_at)],
        says=says,
    )


def _line(steps: Sequence[Step]) -> str:
    """What to do, in one line: "dial 4300 K + quarter plus green"."""
    between = " + " if any(each.place for each in steps) else ", "
    return between.join(each.what for each in steps)


def _reading(row: Row, taken_at: str) -> list[Fact]:
    """One row of a card; nothing for one that is to be filled in."""
    at = f" at {taken_at}" if row.stop and row.what == "expected" and taken_at else ""
    between = f" (nine in ten {row.between} K)" if row.between else ""
    parts = [
        ("Kelvin", row.kelvin + between),
        ("Duv", row.duv),
        ("Stop", row.stop + at),
        ("When", row.time),
    ]
    return [Fact(f"{name} {row.what}", told.replace("\n", ", ")) for name, told in parts if told]


def _said(problem: Problem) -> str:
    return f"{problem.severity}: {problem.where}: {problem.message}. {problem.remedy}"


def _says(job: Job) -> list[str]:
    return [
        f"Made by evencast from the plan {job.name} and its kit, {job.wishes.date}. Its numbers "
        "are those of evencast solve, match and through, rounded for reading.",
        "Everything is in this one file: it loads nothing and sends nothing. Its script searches, "
        "picks a balance and does the small sums; without it all else can be read.",
        "Where work can hurt someone, the label on the fixture, local code and a competent person "
        "decide, not this page.",
    ]
