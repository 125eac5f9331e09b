"""A kit: its filters and what there is of them; added, counted, changed, removed."""

from __future__ import annotations

import html
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, File, Form, Request, UploadFile
from starlette.responses import HTMLResponse, Response

from evencast.actions.editing.declared import say_kelvin_rounding
from evencast.actions.editing.document import KIT
from evencast.actions.editing.fields import shown_fields
from evencast.actions.editing.kits import (
    add_filter,
    add_stock,
    edit_filter,
    remove_filter,
)
from evencast.errors import EvencastError
from evencast.results.editing import Edited
from evencast.web.asked import Editor, TheDesk
from evencast.web.kit_forms import NewFilter, check_spectrum, keys_of, stock_of
from evencast.web.kit_replies import REFUSED, Asking, BasedOn, Changing, From, Looking, Text
from evencast.web.pages.filter import FilterPage, filter_page
from evencast.web.pages.kit import KitPage, check_member, kit_page
from evencast.web.replies import page

router = APIRouter(prefix="/kit/{number}")
Balance = str | None


@router.get(".json", responses=REFUSED)
def kit_json(number: int, desk: TheDesk, plan: From = None) -> KitPage:
    """A kit: every filter with what it does, what is known of it, and how many there are."""
    return kit_page(desk, desk.open(number, "kit"), plan=plan)


@router.get("", include_in_schema=False)
def kit(asking: Looking) -> HTMLResponse:
    """The kit page."""
    found = kit_page(asking.desk, asking.desk.open(asking.number, "kit"), plan=asking.plan)
    return page(asking.request, "kit.html", asking.frame("Kit"), found)


@router.get("/filter/{name:path}.json", responses=REFUSED)
def filter_json(
    number: int,
    name: str,
    desk: TheDesk,
    warm: Balance = None,
    cool: Balance = None,
    plan: From = None,
) -> FilterPage:
    """One filter: words, numbers, spectrum, and how it looks at two balances.

    warm, cool : balances of the camera
    """
    return filter_page(desk, desk.open(number, "kit"), name, balances=_two(warm, cool), plan=plan)


@router.get("/filter/{name:path}", include_in_schema=False)
def one_filter(
    asking: Looking,
    name: str,
    warm: Balance = None,
    cool: Balance = None,
) -> HTMLResponse:
    """One filter."""
    found = filter_page(
        asking.desk,
        asking.desk.open(asking.number, "kit"),
        name,
        balances=_two(warm, cool),
        plan=asking.plan,
    )
    around = asking.frame("Kit")
    return page(asking.request, "kit/filter.html", around, found)


@router.get("/digits", include_in_schema=False)
def digits(number: int, from_k: str = "", to_k: str = "", stops: str = "") -> HTMLResponse:
    """What the digits of printed numbers are taken to mean, as somebody types them."""
    fields = {"from_k": from_k[:40], "to_k": to_k[:40], "stops": stops[:40]}
    if not all(each.strip() for each in fields.values()):
        return HTMLResponse("How finely it is rounded is read from the digits you type.")
    try:
        told = say_kelvin_rounding(fields, where="the sheet")
    except EvencastError as error:
        told = f"{error.where}: {error.what}. {error.remedy}"
    return HTMLResponse(html.escape(told))


@router.post("/filters", responses=REFUSED, status_code=303, response_class=Response)
def add(
    request: Request,
    number: int,
    desk: TheDesk,
    person: Editor,
    new: Annotated[NewFilter, Form()],
) -> Response:
    """A filter more: a generic one, by printed numbers, or by a spectrum of the bundle."""
    asking = Asking(request, desk, person, number, new.plan)
    if new.way == "spectrum":
        check_member(desk, desk.document(number, "kit"), new.spectrum)
    return _added(asking, new, keys_of(new))


@router.post("/spectra", responses=REFUSED, status_code=303, response_class=Response)
def add_measured(
    asking: Changing,
    based_on: BasedOn,
    file: Annotated[UploadFile, File(description="CSV or .spdx")],
    name: Text = "",
    role: Text = "correction",
    note: Text = "",
) -> Response:
    """A filter more, by a file of its measured transmittance, which goes into the bundle."""
    given, content = (file.filename or "").replace("\\", "/").rpartition("/")[2], file.file.read()
    if not given.casefold().endswith((".csv", ".spdx")):
        raise EvencastError(
            "is no file of a spectrum" if given else "no file was chosen",
            where=given[:80] or "spectrum",
            remedy="Choose a .csv with the columns wavelength_nm,transmittance, or a .spdx file.",
        )
    document = asking.desk.document(asking.number, "kit")
    folder = document.name.rpartition("/")[0]
    check_spectrum(content, given)
    asking.desk.library.import_files(
        document.bundle,
        {f"{folder}/{given}" if folder else given: content},
        by=asking.person.name,
        note=f"the spectrum of {name or given}"[:200],
    )
    fields = NewFilter(
        way="spectrum",
        based_on=based_on,
        plan=asking.plan,
        name=name[:200] or given.rpartition(".")[0],
        role=role[:40],
        note=note,
        spectrum=given,
    )
    return _added(asking, fields, keys_of(fields))


@router.post("/filter-change", responses=REFUSED, status_code=303, response_class=Response)
async def edit(
    request: Request, number: int, desk: TheDesk, person: Editor, based_on: BasedOn, filter: Text
) -> Response:
    """What is known of a filter, changed: its name, role, series and note, and its numbers as the
    form of its page has them."""
    form = await request.form()
    known = ("name", "role", "series", "note", "generic", "spectrum", "kelvin.", "xyy.")
    fields = {
        key: value
        for key, value in form.items()
        if isinstance(value, str) and key.startswith(known)
    }
    came = str(form.get("plan", ""))
    asking = Asking(request, desk, person, number, int(came) if came.isdecimal() else None)
    name = fields.get("name", filter).strip() or filter
    plans = asking.plans()
    if fields.get("spectrum", "").strip():
        check_member(desk, desk.document(number, "kit"), fields["spectrum"].strip())

    def edited(text: str) -> Edited:
        shown_fields(text, ("filter", filter), [], sort=KIT)
        return edit_filter(text, filter, fields, plans)

    return asking.changed(edited, based_on=based_on, to=f"/filter/{quote(name, safe='')}")


@router.post("/filter-remove", responses=REFUSED, status_code=303, response_class=Response)
def remove(asking: Changing, based_on: BasedOn, filter: Text) -> Response:
    """A filter less; refused while a plan of the bundle names it."""
    plans = asking.plans()
    return asking.changed(
        lambda text: remove_filter(text, filter, plans), based_on=based_on, fresh=True
    )


def _added(asking: Asking, new: NewFilter, keys: dict[str, object]) -> Response:
    stock = (
        stock_of(new.form, new.width, new.length, new.count) if new.width or new.length else None
    )

    def edited(text: str) -> Edited:
        made = add_filter(text, keys)
        if stock is None:
            return made
        counted = add_stock(made.text, str(keys["name"]), stock)
        return Edited(counted.text, f"{made.said}; {counted.said}", made.name, counted.problems)

    to = f"/filter/{quote(str(keys['name']), safe='')}"
    return asking.changed(edited, based_on=new.based_on, fresh=True, to=to)


def _two(warm: Balance, cool: Balance) -> tuple[str, str] | None:
    return None if not warm and not cool else (warm or "3200K", cool or "5600K")
