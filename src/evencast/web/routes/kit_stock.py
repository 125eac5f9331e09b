"""What there is of a filter: counted by steps, sizes added and taken out."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form
from starlette.responses import Response

from evencast.actions.editing.document import KIT
from evencast.actions.editing.kits import add_stock, count_stock
from evencast.actions.editing.values import remove_entry
from evencast.actions.filter_page import shown
from evencast.plan.place import folded
from evencast.web.changing import Clashed, Edit
from evencast.web.kit_forms import stock_of
from evencast.web.kit_replies import REFUSED, Asking, BasedOn, Changing, Text
from evencast.web.pages.kit import RowPart, filter_row, loaded
from evencast.web.replies import page

router = APIRouter(prefix="/kit/{number}")


@router.post("/stock", responses=REFUSED, status_code=303, response_class=Response)
def count(
    asking: Changing,
    based_on: BasedOn,
    filter: Text,
    step: Annotated[int, Form(ge=-1000, le=1000)],
    place: Annotated[int, Form(ge=0, le=1000)] = 0,
) -> Response:
    """Some pieces more or fewer of a size that there is."""
    return _counted(
        asking,
        filter,
        lambda text: count_stock(text, filter, step, number=place),
        based_on,
    )


@router.post("/stock-add", responses=REFUSED, status_code=303, response_class=Response)
def add_pieces(
    asking: Changing,
    based_on: BasedOn,
    filter: Text,
    form: Text = "sheet",
    width: Text = "",
    length: Text = "",
    count: Text = "1",
    id: Text = "",
) -> Response:
    """Pieces of another size."""
    stock = stock_of(form, width, length, count) | ({"id": id} if id else {})
    return _counted(
        asking,
        filter,
        lambda text: add_stock(text, filter, stock),
        based_on,
    )


@router.post("/stock-remove", responses=REFUSED, status_code=303, response_class=Response)
def remove_pieces(
    asking: Changing,
    based_on: BasedOn,
    filter: Text,
    place: Annotated[int, Form(ge=0, le=1000)],
) -> Response:
    """A size taken out of what is counted."""
    return _counted(
        asking,
        filter,
        lambda text: remove_entry(text, ("filter", filter, "stock", place), sort=KIT),
        based_on,
        fresh=False,
    )


def _counted(
    asking: Asking, name: str, edit: Edit, based_on: int, *, fresh: bool = True
) -> Response:
    """Make a change of what there is; the row alone where the page asks for it."""
    if fresh:  # a step counts from what there is now, whatever was seen
        based_on = asking.desk.document(asking.number, "kit").head.number
    if not asking.request.headers.get("hx-target", "").startswith("row"):
        to = f"/filter/{quote(name, safe='')}"
        return asking.changed(edit, based_on=based_on, fresh=fresh, to=to)
    try:
        saved = asking.change(edit, based_on=based_on, fresh=fresh)
    except Clashed as clash:
        return asking.clashed(clash)
    kit = loaded(asking.desk, asking.desk.open(asking.number, "kit"))
    each = next(each for each in shown(kit) if folded(each.entry.name) == folded(name))
    row = RowPart(
        asking.number,
        saved.revision.number,
        asking.plan,
        filter_row(each, asking.number, asking.plan),
    )
    return page(asking.request, "kit/row_part.html", asking.frame("Kit"), row)
