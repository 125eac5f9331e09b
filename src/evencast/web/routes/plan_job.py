"""The job of a plan: set-ups, the balance of one, the camera, limits, spots, circuits."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Form
from starlette.responses import Response

from evencast.actions.editing.fields import set_fields
from evencast.actions.editing.setups import add_setup
from evencast.actions.editing.values import add_entry, remove_entry, set_value
from evencast.results.editing import Edited
from evencast.web.asked import TheDesk
from evencast.web.pages.forms import FormPage
from evencast.web.pages.plan_job_forms import circuit_form, job_form, spot_form
from evencast.web.plan_job_edits import keep_balance, set_spot
from evencast.web.plan_replies import (
    OTHERS,
    REFUSED,
    Asked,
    BasedOn,
    Changing,
    Fields,
    Opening,
    Where,
)

router = APIRouter(prefix="/plan/{number}")
Name = Annotated[str, Form(description="What it is called.")]


@router.post("/setups", responses=REFUSED)
def new_setup(
    asking: Changing,
    based_on: BasedOn,
    name: Name,
    copy_of: Annotated[str, Form(description="A set-up to begin with; left out, none.")] = "",
) -> Response:
    """Add a set-up, empty or as another is without what was read there."""
    return asking.changed(
        lambda text: add_setup(text, name, copy_of=copy_of or None),
        based_on=based_on,
        setup=" ".join(name.split()),
    )


@router.post("/setups/rename", responses=REFUSED)
def rename_setup(asking: Changing, based_on: BasedOn, name: Name) -> Response:
    """Call the set-up otherwise."""
    new = " ".join(name.split())
    return asking.changed(
        lambda text: set_value(
            text, ("setup", asking.where.setup, "name"), new or asking.where.setup
        ),
        based_on=based_on,
        setup=new or asking.where.setup,
    )


@router.post("/setups/remove", responses=REFUSED)
def remove_setup(asking: Changing, based_on: BasedOn) -> Response:
    """Take the set-up out; the revision before has it still."""
    return asking.changed(
        lambda text: remove_entry(text, ("setup", asking.where.setup)), based_on=based_on, setup=""
    )


@router.post("/balance", responses=REFUSED)
def balance(asking: Changing, based_on: BasedOn) -> Response:
    """Keep the balance of the page in the set-up."""
    where = asking.where
    return replace(asking, where=Where(where.setup)).changed(
        lambda text: keep_balance(text, where.setup, where.balance), based_on=based_on
    )


@router.get("/job.json", responses={400: REFUSED[400]})
def job_json(number: int, desk: TheDesk, where: Asked) -> FormPage:
    """The form of the camera, the limits and the tolerances."""
    return job_form(desk.open(number), where.query)


@router.get("/job", include_in_schema=False)
def job_page(asking: Opening) -> Response:
    """The form of the camera, the limits and the tolerances."""
    form = job_form(asking.opened(), asking.query)
    return asking.shown("plan/form", form)


@router.post("/job", responses=REFUSED, openapi_extra=OTHERS)
def job(asking: Changing, fields: Fields, based_on: BasedOn) -> Response:
    """Change the camera, the limits, the tolerances: each key of the form by its name."""

    def form() -> FormPage:
        return job_form(asking.seen_at(based_on), asking.query)

    return asking.filled(
        form, fields, lambda text, keys: set_fields(text, (), keys), based_on=based_on
    )


@router.get("/spot.json", responses={400: REFUSED[400]})
def spot_json(number: int, desk: TheDesk, where: Asked, spot: str = "") -> FormPage:
    """The form of a spot; without a name that of a new one."""
    return spot_form(desk.open(number), spot, where.query)


@router.get("/spot", include_in_schema=False)
def spot_page(asking: Opening, spot: str = "") -> Response:
    """The form of a spot."""
    form = spot_form(asking.opened(), spot, asking.query)
    return asking.shown("plan/form", form)


@router.post("/spot", responses=REFUSED, openapi_extra=OTHERS)
def spot(
    asking: Changing,
    fields: Fields,
    based_on: BasedOn,
    spot: Annotated[str, Form(description="Its name until now; left out, a new one.")] = "",
) -> Response:
    """Add or change a spot: its name and role, and what each light gives there."""

    def form() -> FormPage:
        return spot_form(asking.seen_at(based_on), spot, asking.query)

    shown = form()
    lights = {each.name: each.label for group in shown.groups[1:] for each in group.fields}
    return asking.filled(
        form,
        fields,
        lambda text, keys: set_spot(
            text, spot, keys, {lights[name]: keys[name] for name in lights}, lights
        ),
        based_on=based_on,
    )


@router.post("/spot/remove", responses=REFUSED)
def remove_spot(asking: Changing, based_on: BasedOn, spot: Name) -> Response:
    """Take a spot out."""
    return asking.changed(lambda text: remove_entry(text, ("spot", spot)), based_on=based_on)


@router.get("/circuit.json", responses={400: REFUSED[400]})
def circuit_json(number: int, desk: TheDesk, where: Asked, circuit: str = "") -> FormPage:
    """The form of a circuit; without a name that of a new one."""
    return circuit_form(desk.open(number), circuit, where.query)


@router.get("/circuit", include_in_schema=False)
def circuit_page(asking: Opening, circuit: str = "") -> Response:
    """The form of a circuit."""
    form = circuit_form(asking.opened(), circuit, asking.query)
    return asking.shown("plan/form", form)


@router.post("/circuit", responses=REFUSED, openapi_extra=OTHERS)
def circuit(
    asking: Changing,
    fields: Fields,
    based_on: BasedOn,
    circuit: Annotated[str, Form(description="Its name until now; left out, a new one.")] = "",
) -> Response:
    """Add or change a circuit."""

    def form() -> FormPage:
        return circuit_form(asking.seen_at(based_on), circuit, asking.query)

    def edit(text: str, keys: dict[str, str]) -> Edited:
        if circuit:
            return set_fields(text, ("circuit", circuit), keys)
        return add_entry(text, ("circuit",), keys)

    return asking.filled(form, fields, edit, based_on=based_on)


@router.post("/circuit/remove", responses=REFUSED)
def remove_circuit(asking: Changing, based_on: BasedOn, circuit: Name) -> Response:
    """Take a circuit out, where nothing is plugged into it any more."""
    return asking.changed(lambda text: remove_entry(text, ("circuit", circuit)), based_on=based_on)
