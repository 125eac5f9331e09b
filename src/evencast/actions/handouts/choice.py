"""`choice`: half a page for the director of photography, one for every set-up."""

from __future__ import annotations

from dataclasses import replace

from evencast.actions.charts import lights_chart
from evencast.actions.charts_colour import shown_at
from evencast.actions.handouts.faces import faces_of, pictured_light
from evencast.actions.handouts.job import Job, Made, Part
from evencast.handouts.charts import with_shapes
from evencast.handouts.charts.lights import svg as lights_svg
from evencast.handouts.charts.moves import described
from evencast.handouts.choice import Choice, Section, Spot, Stays, Way
from evencast.quantities import say_left
from evencast.results.plan import Alternative
from evencast.results.spot import SpotAnswer
from evencast.results.words import (
    say_balance,
    say_doubtful_left,
    say_loss,
    say_minutes,
    say_off,
    say_stop_range,
    say_verdict,
    say_view,
)

FILE = "choice.pdf"
ROWS = ["pieces", "of sheet", "time", "loses most", "off"]
LONGEST_NAME = 24
"""Letters of a name in two lines of a column."""
CHART_PX = 480.0
"""The narrowest chart there is: its letters come out at 7 points on half the width of a page."""


def made(job: Job) -> list[Made]:
    """The choice of every set-up as one PDF."""
    content = Choice([_section(job, part) for part in job.parts])
    return [job.typeset(FILE, "choice", f"{job.name}: the choice", content)]


def _section(job: Job, part: Part) -> Section:
    answer = part.answer
    pictured = pictured_light(part)
    verdict = say_verdict(answer) if answer.lights else ""
    chart, chart_alt = _chart(part)
    return Section(
        head=", ".join(each for each in (job.name, part.name) if each),
        verdict=f"{verdict[0].upper()}{verdict[1:]}." if verdict else "",
        why=answer.why,
        row_names=ROWS,
        ways=[_way(job, part, each) for each in answer.alternatives] if answer.lights else [],
        pictured=pictured,
        pictured_number=str(part.numbers[pictured]) if pictured else "",
        spots=[_spot(each) for each in answer.spots],
        stays=_stays(part),
        chart=chart,
        chart_alt=chart_alt,
    )


def _way(job: Job, part: Part, each: Alternative) -> Way:
    names = each.name.split(", ")
    recommended = "best" in names
    names = [name for name in names if name not in ("best", each.balance.label)]
    bare, hung = faces_of(job, part, each)
    loses = f", {_short(part, each.loses_most)}" if each.loses_most else ""
    shown = replace(
        each,
        off_colour=[_short(part, name) for name in each.off_colour],
        off_level=[_short(part, name) for name in each.off_level],
    )
    return Way(
        balance=say_balance(each.balance),
        names=", ".join([*(["recommended"] if recommended else []), *names]),
        recommended=recommended,
        told=[
            str(each.pieces),
            f"{each.area_m2:.1f} m²",
            say_minutes(each.minutes),
            f"{say_loss(each.loss_stops)}{loses}",
            say_off(shown),
        ],
        bare=bare,
        hung=hung,
    )


def _short(part: Part, name: str) -> str:
    """A light's name, or its number where the name would fill a column."""
    return name if len(name) <= LONGEST_NAME else f"light {part.numbers[name]}"


def _spot(answer: SpotAnswer) -> Spot:
    if answer.mix is None:
        looks, judged = "not known", ""
    else:
        looks = say_left(answer.residual_mired, answer.residual_duv)
        judged = "inside" if answer.within_tolerance else "outside"
        judged += f", by {answer.blames}" if answer.blames else ""
    stop = "" if answer.f_number is None else say_stop_range(answer.f_number)
    return Spot(answer.name, looks, stop, judged)


def _stays(part: Part) -> list[Stays]:
    """Lights and views that do not come out as they shall, by number."""
    answer, numbers = part.answer, part.numbers
    found = {
        each.name: Stays(
            f"{numbers[each.name]} {each.name}",
            say_doubtful_left(each),
            "harmless at every spot" if each.harmless else "outside its tolerance",
        )
        for each in answer.lights
        if not each.within_tolerance and each.move != "switch off"
    }
    found |= {
        view.name: Stays(f"{numbers[view.name]} {view.name}", say_view(view), "")
        for view in answer.views
        if view.within_tolerance is False
    }
    return [found[name] for name in sorted(found, key=lambda each: numbers[each])]


def _chart(part: Part) -> tuple[str, str]:
    """The lights before and after, and the same in words; neither where mired have no zero."""
    answer = part.answer
    if not answer.lights or answer.balance.mired is None:
        return "", ""
    shown = shown_at(answer.balance.x, answer.balance.y)
    chart = lights_chart(answer, shown, part.numbers)
    chart = with_shapes(replace(chart, title="Every light, bare and as it hangs"))
    return lights_svg(chart, width=CHART_PX, small=True), described(chart)
