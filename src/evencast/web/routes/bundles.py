"""Bundles and their documents: brought in, taken out, named, copied, removed, brought back."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, File, Form, Request, UploadFile
from starlette.responses import HTMLResponse, Response

from evencast.actions.beginning import file_for, title_of
from evencast.actions.editing.values import set_value
from evencast.errors import EvencastError
from evencast.quantities import listed
from evencast.store.library.carrying import zip_of
from evencast.store.library.values import Document
from evencast.web.asked import Editor, TheDesk, ThePerson
from evencast.web.desk import Desk
from evencast.web.pages.bundle import PAGES, SORTS, BundlePage, arrive, bundle_page
from evencast.web.pages.frame import frame
from evencast.web.pages.within import plans_of
from evencast.web.replies import file_reply, gone_to, page

router = APIRouter()
REFUSED: dict[int | str, dict[str, Any]] = {
    400: {"description": "No such bundle or document, or what cannot be done: what, where, remedy."}
}
IMPORT_REFUSED = REFUSED | {413: {"description": "More than may be sent at once."}}
BasedOn = Annotated[int, Form()]


@router.get("/bundle/{number}.json", responses=REFUSED)
def bundle_json(number: int, desk: TheDesk) -> BundlePage:
    """Every document of a bundle."""
    return bundle_page(desk, desk.bundle(number))


@router.get("/bundle/{number}.zip", responses=REFUSED, response_class=Response)
def bundle_zip(number: int, desk: TheDesk) -> Response:
    """A bundle as it is, to the byte."""
    bundle = desk.bundle(number)
    return file_reply(zip_of(desk.library.export(bundle)), f"{bundle.name}.zip")


@router.get("/bundle/{number}", include_in_schema=False)
def bundle(request: Request, number: int, desk: TheDesk, person: ThePerson) -> HTMLResponse:
    """Every document of a bundle."""
    found = bundle_page(desk, desk.bundle(number))
    return page(request, "bundle.html", frame(person, request.url.path), found)


@router.get("/document/{number}/file", responses=REFUSED, response_class=Response)
def document_file(number: int, desk: TheDesk, revision: int | None = None) -> Response:
    """A document's own bytes, as they are now or were once."""
    document = desk.document(number)
    content = desk.library.read(document, revision).content
    return file_reply(content, document.name.rpartition("/")[2])


@router.post("/import", responses=IMPORT_REFUSED, response_class=HTMLResponse)
def bring_in(
    request: Request,
    desk: TheDesk,
    person: Editor,
    files: Annotated[list[UploadFile], File(default_factory=list)],
    into: Annotated[int | None, Form()] = None,
    name: Annotated[str, Form(max_length=400)] = "",
) -> HTMLResponse:
    """Documents, or archives of them, into a bundle.

    into : number of the bundle; none for a new one
    name : of the new one
    """
    given = [(each.filename or "", each.file.read()) for each in files]
    found = arrive(desk, [each for each in given if each[0]], into=into, name=name, by=person)
    return page(request, "arrived.html", frame(person, "/import"), found)


@router.post("/document/{number}/name", responses=REFUSED, status_code=303, response_class=Response)
def name_document(
    request: Request,
    number: int,
    desk: TheDesk,
    person: Editor,
    based_on: BasedOn,
    name: Annotated[str, Form(max_length=400)] = "",
) -> Response:
    """Call a plan or a kit otherwise; its file keeps its name."""
    document, text = _titled(desk, number)
    title = title_of(name, what=f"the {document.kind}")
    edited = set_value(text, ("name",), title, sort=SORTS[document.kind])
    desk.save(document, edited.text, based_on=based_on, by=person, note=edited.said)
    return gone_to(request, "/")


@router.post("/document/{number}/copy", responses=REFUSED, status_code=303, response_class=Response)
def copy_document(
    request: Request,
    number: int,
    desk: TheDesk,
    person: Editor,
    name: Annotated[str, Form(max_length=400)] = "",
) -> Response:
    """A plan or a kit once more, beside the first."""
    document, text = _titled(desk, number)
    title = title_of(name, what=f"the copied {document.kind}")
    edited = set_value(text, ("name",), title, sort=SORTS[document.kind])
    bundle = document.bundle
    taken = [*desk.library.documents(bundle), *desk.library.removed(bundle)]
    file = file_for(title, [each.name for each in taken], usual=document.kind)
    folder = document.name.rpartition("/")[0]
    place = f"{folder}/{file}" if folder else file
    made = desk.library.add(bundle, place, edited.text.encode(), by=person.name)
    return gone_to(request, f"{PAGES[document.kind]}{made.id}")


@router.post(
    "/document/{number}/remove", responses=REFUSED, status_code=303, response_class=Response
)
def remove_document(
    request: Request, number: int, desk: TheDesk, person: Editor, based_on: BasedOn
) -> Response:
    """Take a document out of its bundle; it can be brought back from there."""
    document = desk.document(number)
    plans = plans_of(desk, document) if document.kind == "kit" else {}
    if plans:
        raise EvencastError(
            f"{listed(list(plans))} {'needs' if len(plans) == 1 else 'need'} this kit",
            where=document.name,
            remedy="Remove the plan first, or have it name another kit.",
        )
    desk.library.remove(document, based_on=based_on, by=person.name)
    return gone_to(request, f"/bundle/{document.bundle.id}")


@router.post(
    "/bundle/{number}/bring-back", responses=REFUSED, status_code=303, response_class=Response
)
def bring_back(
    request: Request,
    number: int,
    desk: TheDesk,
    person: Editor,
    document: Annotated[int, Form()],
) -> Response:
    """Bring back a document that was taken out, as it was last."""
    bundle = desk.bundle(number)
    found = next((each for each in desk.library.removed(bundle) if each.id == document), None)
    if found is None:
        raise EvencastError(
            "no such document was taken out",
            where=bundle.name,
            remedy="Load the page of the bundle again: it may be back already.",
        )
    last = [each.number for each in desk.library.history(found) if not each.removed][-1]
    desk.library.bring_back(found, last, based_on=found.head.number, by=person.name)
    return gone_to(request, f"/bundle/{number}")


def _titled(desk: Desk, number: int) -> tuple[Document, str]:
    """A plan or a kit with its text."""
    document = desk.document(number)
    if document.kind not in SORTS:
        raise EvencastError(
            "is neither a plan nor a kit", where=document.name, remedy="Only those have a name."
        )
    return document, desk.library.read(document).content.decode()
