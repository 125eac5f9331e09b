"""Lights of a plan: added, changed, rigged, read, trimmed."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, Form, UploadFile
from starlette.responses import Response

from evencast.actions.editing.lights import add_light, duplicate_light, remove_light
from evencast.actions.editing.steps import step_level
from evencast.actions.entry import typed_light
from evencast.results.editing import Edited
from evencast.web.asked import TheDesk
from evencast.web.desk import Desk, Opened
from evencast.web.pages.forms import FormPage
from evencast.web.pages.plan_entry import EntryPage, entry_page, tapped_line
from evencast.web.pages.plan_forms import light_form, read_form, rig_form
from evencast.web.pages.plan_trim import TrimPage, found_trim, rigged_by, trim_page
from evencast.web.plan_edits import (
    adopt_file,
    edit_light,
    note_reading,
    note_rigging,
    note_trim,
    stand_in_time,
)
from evencast.web.plan_replies import (
    OTHERS,
    REFUSED,
    Asked,
    BasedOn,
    Changing,
    Fields,
    LightName,
    Looking,
    Opening,
    Where,
)

router = APIRouter(prefix="/plan/{number}")
FILE_BYTES = 8 * 1024 * 1024


@router.get("/entry.json")
def entry_json(number: int, desk: TheDesk, where: Asked, line: str = "") -> EntryPage:
    """What is understood of a typed line so far."""
    opened = desk.open(number)
    return entry_page(number, opened.revision.number, opened.text, line, **where.query)


@router.get("/entry", include_in_schema=False)
def entry(asking: Opening, line: str = "", part: str = "") -> Response:
    """A light before it is added: the whole form, or only what was understood."""
    opened = asking.opened()
    found = entry_page(asking.number, opened.revision.number, opened.text, line, **asking.query)
    return asking.shown("plan/understood" if part == "understood" else "plan/entry", found)


@router.post("/lights", responses=REFUSED)
def add(
    asking: Changing,
    fields: Fields,
    based_on: BasedOn,
    line: Annotated[str, Form(description="A light as it is said on a set.")] = "",
    kind: Annotated[str, Form(description="Instead of a line: number of a kind.")] = "",
    size: Annotated[str, Form(description="Its size, in the words of a line.")] = "",
    distance: Annotated[str, Form(description="Such as 3 m.")] = "",
    role: Annotated[str, Form(description="What it does for the picture.")] = "",
) -> Response:
    """Add a light."""
    said = line.strip() or tapped_line(kind, size or fields.get(f"size_{kind}", ""), distance, role)

    def edit(text: str) -> Edited:
        return add_light(text, typed_light(said, plan=text))

    opened = asking.opened()
    found = entry_page(asking.number, opened.revision.number, opened.text, said, **asking.query)
    if not found.ready:
        return asking.not_yet(found)
    return asking.changed(edit, based_on=based_on, fresh=True)


@router.post("/duplicate", responses=REFUSED)
def duplicate(asking: Changing, based_on: BasedOn, light: LightName) -> Response:
    """Another light like one of the plan's."""
    return asking.changed(lambda text: duplicate_light(text, light), based_on=based_on, fresh=True)


@router.post("/remove", responses=REFUSED)
def remove(asking: Changing, based_on: BasedOn, light: LightName) -> Response:
    """Take a light out, with all that names it; the revision before has it still."""
    return asking.changed(lambda text: remove_light(text, light, also=True), based_on=based_on)


@router.post("/step", responses=REFUSED)
def step(
    asking: Changing,
    based_on: BasedOn,
    light: LightName,
    thirds: Annotated[int, Form(ge=-30, le=30, description="+ brighter, - darker.")],
) -> Response:
    """A light's level, so many thirds of a stop brighter or darker."""
    return asking.changed(lambda text: step_level(text, light, thirds), based_on=based_on)


@router.get("/edit.json", responses={400: REFUSED[400]})
def edit_json(number: int, light: str, desk: TheDesk, where: Asked) -> FormPage:
    """The form of a light."""
    return light_form(desk, desk.open(number), light, where.query)


@router.get("/edit", include_in_schema=False)
def edit_page(asking: Opening, light: str) -> Response:
    """The form of a light."""
    form = light_form(asking.desk, asking.opened(), light, asking.query)
    return asking.shown("plan/form", form)


@router.post("/edit", responses=REFUSED, openapi_extra=OTHERS)
def edit(asking: Changing, fields: Fields, based_on: BasedOn, light: LightName) -> Response:
    """Change what a light is, gives and shall look like: each key of the form by its name."""

    def form() -> FormPage:
        return light_form(asking.desk, asking.seen_at(based_on), light, asking.query)

    return asking.filled(
        form, fields, lambda text, keys: edit_light(text, light, keys), based_on=based_on
    )


@router.post("/file", responses=REFUSED)
def file(
    asking: Changing,
    based_on: BasedOn,
    light: LightName,
    content: Annotated[UploadFile, File(description="A spectrum or a photometric file.")],
) -> Response:
    """Put a spectrum or a photometric file beside the plan, and let a light name it."""
    given = content.file.read(FILE_BYTES + 1)
    edit = adopt_file(
        asking.desk, asking.number, light, content.filename or "", given, by=asking.person
    )
    return asking.changed(edit, based_on=based_on)


@router.get("/read.json", responses={400: REFUSED[400]})
def read_json(number: int, light: str, desk: TheDesk, where: Asked) -> FormPage:
    """The form of a reading."""
    return read_form(desk.open(number), light, where.query)


@router.get("/read", include_in_schema=False)
def read_page(asking: Opening, light: str) -> Response:
    """The form of a reading."""
    form = read_form(asking.opened(), light, asking.query)
    return asking.shown("plan/form", form)


@router.post("/read", responses=REFUSED, openapi_extra=OTHERS)
def read(
    asking: Changing,
    fields: Fields,
    based_on: BasedOn,
    light: LightName,
    now: Annotated[str, Form(description="The device's time, with its offset.")] = "",
) -> Response:
    """Note what was read of a light as it hangs; the answer is the trim."""

    def form() -> FormPage:
        return read_form(asking.seen_at(based_on), light, asking.query)

    time = now or stand_in_time()
    return asking.filled(
        form,
        fields,
        lambda text, keys: note_reading(text, asking.where.setup, light, keys, now=time),
        based_on=based_on,
        trim_of=light,
    )


@router.get("/rig.json", responses={400: REFUSED[400]})
def rig_json(number: int, light: str, desk: TheDesk, where: Asked) -> FormPage:
    """The form of what really hangs."""
    return _rig(desk, desk.open(number), light, where)


@router.get("/rig", include_in_schema=False)
def rig_page(asking: Opening, light: str) -> Response:
    """The form of what really hangs."""
    return asking.shown("plan/form", _rig(asking.desk, asking.opened(), light, asking.where))


@router.post("/rig", responses=REFUSED, openapi_extra=OTHERS)
def rig(asking: Changing, fields: Fields, based_on: BasedOn, light: LightName) -> Response:
    """Note what really hangs on a light."""

    def form() -> FormPage:
        return rig_form(asking.desk, asking.seen_at(based_on), light, asking.query, [])

    return asking.filled(
        form,
        fields,
        lambda text, keys: note_rigging(text, asking.where.setup, light, keys),
        based_on=based_on,
    )


@router.get("/trim.json", responses={400: REFUSED[400]})
def trim_json(number: int, light: str, desk: TheDesk, where: Asked) -> TrimPage:
    """The one change that brings a light nearest to its aim, by what was read of it."""
    return trim_page(desk, desk.open(number), light, where.query)


@router.get("/trim", include_in_schema=False)
def trim_of(asking: Looking, light: str) -> Response:
    """The trim."""
    found = trim_page(asking.desk, asking.opened(), light, asking.query)
    return asking.shown("plan/trim", found)


@router.post("/trim", responses=REFUSED)
def do_trim(
    asking: Changing,
    based_on: BasedOn,
    light: LightName,
    trim: Annotated[str, Form(description="The trim as it was shown.")],
) -> Response:
    """Do a trim: what hangs then is noted as rigged. Where it is another by now, that one is
    shown, and nothing is done."""
    opened = asking.opened()
    found = found_trim(asking.desk, opened, light, asking.query)
    if found.trim != trim:
        return asking.shown("plan/trim", trim_page(asking.desk, opened, light, asking.query))
    rigged = rigged_by(found.after_hangs)
    return asking.changed(
        lambda text: note_trim(text, asking.where.setup, light, rigged, found.trim),
        based_on=based_on,
    )


def _rig(desk: Desk, opened: Opened, light: str, where: Where) -> FormPage:
    """The form, with what to mind of the light as it hangs."""
    cautions = desk.cautions(opened, where.setup, light)
    return rig_form(desk, opened, light, where.query, cautions)
