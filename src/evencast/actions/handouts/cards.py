"""`cards`: one A5 card for every light and set-up, to hang on the lamp."""

from __future__ import annotations

from dataclasses import replace

from evencast.actions.flicker import say_time
from evencast.actions.handouts.card_facts import circuit_of, facts_of_lamp, facts_of_view
from evencast.actions.handouts.card_readings import TO_FILL_IN, rows_of
from evencast.actions.handouts.job import Job, Made, Part
from evencast.actions.handouts.otherwise import otherwise
from evencast.handouts.anchor import anchor
from evencast.handouts.cards import Card, Cards, Row, Step
from evencast.handouts.qr import qr_code
from evencast.plan.light import Light
from evencast.plan.setups import light_in
from evencast.results.exposure import NdChoice, ViewAnswer
from evencast.results.plan import PlannedLight
from evencast.results.words import at_the_lamp, say_over

FILE = "lamp-cards.pdf"
NO_LIGHT = (
    "The plan has no light yet, so there is no card. Add each light to the plan as [[light]], "
    'with a name, a role and what it is: name = "key", role = "key", builtin = '
    '"tungsten 3200 K".'
)


def made(job: Job) -> list[Made]:
    """The cards of every set-up as one PDF, in the order of the plan's lights."""
    cards = [
        _with_code(card_of(job, part, light), light.name, part.name, job.wishes.address)
        for part in job.parts
        for light in part.loaded.plan.light
    ]
    content = Cards(cards, "" if cards else NO_LIGHT)
    return [job.typeset(FILE, "cards", f"{job.name}: lamp cards", content)]


def card_of(job: Job, part: Part, light: Light) -> Card:
    """The card of one light in one set-up, without a code."""
    planned = next((each for each in part.answer.lights if each.name == light.name), None)
    view = next((each for each in part.answer.views if each.name == light.name), None)
    blank = Card(
        number=str(part.numbers[light.name]),
        name=light.name,
        sub=", ".join(each for each in (light.role, _lamps(light), part.name) if each),
        steps=[],
        facts=[],
        taken_at=_taken_at(part),
        rows=[],
        otherwise=[],
        cautions=[],
    )
    if planned is None:
        return _view(blank, part, light, view)
    return _lamp(blank, job, part, light, planned, view)


def _lamp(
    card: Card, job: Job, part: Part, light: Light, planned: PlannedLight, view: ViewAnswer | None
) -> Card:
    """A light with a stack of its own, or with something else to do to it."""
    said = light_in(part.setup, light.name)
    off = planned.move == "switch off"
    return replace(
        card,
        steps=_steps(planned, light) + _own_nd(planned, view),
        facts=facts_of_lamp(part, light, planned, view, said, paper=job.wishes.paper),
        rows=rows_of(part, said, None if off else planned),
        otherwise=otherwise(said, planned, light),
        cautions=_cautions(part, light, [*planned.cautions, *(view.cautions if view else [])]),
    )


def _view(card: Card, part: Part, light: Light, view: ViewAnswer | None) -> Card:
    """What is seen through a window of the plan, whose sheets stand before it too."""
    window = light.behind or ""
    steps = [
        Step("", f"seen through light {part.numbers[window]}, {window}", "hang nothing of its own")
    ]
    if view is not None:
        on_panes = " + ".join(view.filters) or "no sheet"
        steps += [Step("", on_panes, "on the window, by its own card"), *_nd(view.nd[:1])]
    expected = [Row("expected", stop=f"{say_over(view.over_stops[1])} the shot")] if view else []
    return replace(
        card,
        steps=steps,
        facts=facts_of_view(view),
        rows=[*expected, TO_FILL_IN],
        cautions=_cautions(part, light, view.cautions if view else []),
    )


def _steps(planned: PlannedLight, light: Light) -> list[Step]:
    """What to do to the lamp, then what hangs before it, frost outermost."""
    if planned.move == "switch off":
        return [Step("", "switch off")]
    done = [Step("", each) for each in at_the_lamp(planned)]
    if not done and not planned.filters:
        lost = planned.move == "nothing reaches it"
        note = "nothing reaches it: flag it, switch it off, or let it be a colour" if lost else ""
        note = "off its colour, but harmless at every spot" if planned.harmless else note
        done = [Step("", "leave as it is", note)]
    frost = [each for each in light.frost if each not in planned.filters]
    wide = "" if light.frost_size_mm is None else f", lit {light.frost_size_mm:.0f} mm wide"
    sheets = [(each, "") for each in planned.filters] + [(each, f"frost{wide}") for each in frost]
    return done + [Step(str(place), *each) for place, each in enumerate(sheets, 1)]


def _lamps(light: Light) -> str:
    return "" if light.count == 1 else f"{light.count} lamps"


def _own_nd(planned: PlannedLight, view: ViewAnswer | None) -> list[Step]:
    """The ND of a view that has sheets of its own."""
    if view is None:
        return []
    return _nd([each for each in view.nd if each.filters == planned.filters][:1])


def _nd(choices: list[NdChoice]) -> list[Step]:
    """What a view needs besides the sheets in its way."""
    return [
        Step("", " + ".join(each.nd) or "no ND", "" if each.at_hand else "not all of it in the kit")
        for each in choices
    ]


def _cautions(part: Part, light: Light, own: list[str]) -> list[str]:
    """Of the light and of the circuit it hangs on, each once."""
    load = circuit_of(part, light)
    return list(dict.fromkeys([*own, *(load.load.cautions if load else [])]))


def _taken_at(part: Part) -> str:
    exposure = part.answer.exposure
    if exposure is None:
        return ""
    return f"index {exposure.exposure_index:g}, {say_time(exposure.exposure_s)}"


def _with_code(card: Card, light: str, setup: str, address: str) -> Card:
    """The card with the code that leads to the light on the pocket page."""
    if not address:
        return card
    link = f"{address}#{anchor(light, setup)}"
    code = qr_code(link)
    return replace(card, qr=code.svg, qr_alt=f"QR code of {link}", qr_mm=code.width_mm)
