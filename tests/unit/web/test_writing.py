"""A plan and a kit by hand, as text: saved to the letter, or shown as typed with what is wrong."""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from starlette.testclient import TestClient

from evencast.store.library.values import Document
from evencast.web.changing import as_sent
from evencast.web.desk import Desk
from evencast.web.people import Person

ADA = Person("9", "Ada", "edit")


@pytest.fixture(params=["plan", "kit"])
def document(request: pytest.FixtureRequest, desk: Desk) -> Document:
    return desk.library.documents(kind=request.param)[0]


def content(desk: Desk, document: Document) -> str:
    return desk.library.read(document).content.decode()


def saved(desk: Desk, document: Document, text: str) -> int:
    """A new revision with that text; its number."""
    head = desk.library.read(document)
    return desk.save(document, text, based_on=head.number, by=ADA, note="by Ada").number


def send(client: TestClient, document: Document, path: str, **fields: Any) -> Any:
    return client.post(f"/{document.kind}/{document.id}/{path}", data=fields)


def typed_in(page: str) -> str:
    """What stands in the field, as a browser takes it out and sends it."""
    found = re.search(r"<textarea id=\"text\"[^>]*>\n(.*?)</textarea>", page, re.DOTALL)
    assert found is not None
    return html.unescape(found[1]).replace("\r\n", "\n").replace("\n", "\r\n")


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_what_is_not_touched_stays_to_the_letter(
    client: TestClient, desk: Desk, document: Document, ending: str
) -> None:
    before = content(desk, document).replace("\n", ending)
    at = saved(desk, document, before)
    sent = typed_in(client.get(f"/{document.kind}/{document.id}/text").text)
    line = f"# by hand{ending}"
    assert send(client, document, "text", based_on=at, text=f"{sent}# by hand\r\n").is_redirect
    assert content(desk, document) == before + line


def test_an_earlier_revision_comes_back_byte_for_byte(
    client: TestClient, desk: Desk, document: Document
) -> None:
    first = "\ufeff" + content(desk, document).replace("\n", "\r\n")
    at = saved(desk, document, first)
    now = saved(desk, document, content(desk, document) + "# more\r\n")
    assert send(client, document, "bring-back", based_on=now, revision=at).is_redirect
    assert content(desk, document) == first


def test_a_text_that_does_not_read_is_shown_as_typed(
    client: TestClient, desk: Desk, document: Document
) -> None:
    at = desk.library.read(document).number
    broken = content(desk, document) + "name = \n"
    told = send(client, document, "text", based_on=at, text=broken)
    assert told.status_code == 422
    assert typed_in(told.text).replace("\r\n", "\n") == broken
    assert "line" in told.text
    program = client.post(
        f"/{document.kind}/{document.id}/text",
        data={"based_on": at, "text": broken},
        headers={"accept": "application/json"},
    )
    assert program.status_code == 422
    assert program.json()["error"]["problems"]
    assert desk.library.read(document).number == at


def test_a_text_that_cannot_be_brought_together_says_why(
    client: TestClient, desk: Desk, document: Document
) -> None:
    """Two people mend the same broken file: nothing tells what each of them changed."""
    sound = content(desk, document)
    at = saved(desk, document, sound + "name = \n")
    saved(desk, document, sound + "# by Ada\n")
    told = send(client, document, "text", based_on=at, text=sound + "# by me\n")
    assert told.status_code == 422
    assert "1 to look at" in told.text
    assert "# by me" in typed_in(told.text)
    assert content(desk, document).endswith("# by Ada\n")


def test_each_document_has_the_pages_of_its_own_kind(client: TestClient, desk: Desk) -> None:
    for document in desk.library.documents():
        if document.kind not in ("plan", "kit"):
            continue
        kind, number = document.kind, document.id
        other = "kit" if kind == "plan" else "plan"
        for path in ("text", "history", "history/1"):
            for twin in ("", ".json"):
                assert client.get(f"/{kind}/{number}/{path}{twin}").status_code == 200
                assert client.get(f"/{other}/{number}/{path}{twin}").status_code == 400


def test_ends_of_lines_are_those_of_before() -> None:
    assert as_sent("a\r\nb\r\n", "x\ny") == "a\nb\n"
    assert as_sent("a\nb\r\n", "x\r\ny") == "a\r\nb\r\n"
