"""What every request must pass, and what every answer carries."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import APIRouter
from fastapi.dependencies.models import Dependant
from fastapi.routing import APIRoute
from starlette.responses import HTMLResponse, Response
from starlette.testclient import TestClient

from evencast.store.key import own_key
from evencast.web import asked
from evencast.web.app import create_app
from evencast.web.desk import Desk
from evencast.web.guard import HEADERS, MOST_BYTES, POLICY, SEALED_POLICY
from evencast.web.people import OWNER, Person
from evencast.web.tokens import Tokens
from tests.web import HOST, LAPTOP, Crewed, filled, token_in

ANYBODY_IN_MAY_POST = {"/join", "/crew/end", "/crew/name"}
"""What somebody who joined to look may send: each of these concerns nobody but themselves."""
CHANGES_NOTHING = ("/scratch", "/hand-outs", "/reference")
"""Sums of numbers, and papers made from what is there: sent as forms, kept in no document."""


def every_route(crewed: Crewed) -> list[APIRoute]:
    def inside(routes: Any) -> Iterator[APIRoute]:
        for each in routes:
            if isinstance(each, APIRoute):
                yield each
            elif hasattr(each, "original_router"):
                yield from inside(each.original_router.routes)

    found = list(inside(crewed.app.routes))
    assert len(found) > 10
    return found


def needs(dependant: Dependant) -> Iterator[object]:
    yield dependant.call
    for each in dependant.dependencies:
        yield from needs(each)


def test_whoever_joined_to_look_can_change_nothing(crewed: Crewed) -> None:
    """Every route that changes something asks for an editor or the owner, those to come too."""
    guards = {asked._editor, asked._owner}
    open_to_all = {
        each.path
        for each in every_route(crewed)
        if (each.methods or set()) - {"GET", "HEAD"} and not guards & set(needs(each.dependant))
    }
    changing = {each for each in open_to_all if not any(part in each for part in CHANGES_NOTHING)}
    assert changing == ANYBODY_IN_MAY_POST


# By which name, from where


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "",
        "127.0.0.1",
        "127.0.0.1:80",
        "localhost.evil.example:8765",
        f"{HOST}.",
        "x" * 5000,
    ],
)
def test_a_name_of_another_is_refused(crewed: Crewed, host: str) -> None:
    """Or a page that makes its own name lead here could read all of it."""
    for path in ("/", "/join", "/static/app.css", "/jobs.json"):
        answer = crewed.laptop().get(path, headers={"host": host})
        assert answer.status_code == 421, path
        assert "bindery" not in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": ""},
        {"origin": "http://localhost:9999"},
        {"origin": "https://localhost:8765"},
        {"origin": "http://localhost:8765.evil.example"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_a_page_of_another_site_changes_nothing(crewed: Crewed, headers: dict[str, str]) -> None:
    """Not even with the right token."""
    laptop, before = crewed.laptop(), dict(crewed.door.codes)
    sent = {"form_token": token_in(laptop)}
    assert laptop.post("/crew/codes", data=sent, headers=headers).status_code == 403
    assert crewed.door.codes == before


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"origin": "http://localhost:8765"},
        {"origin": "http://LOCALHOST:8765", "sec-fetch-site": "same-origin"},
    ],
)
def test_our_own_page_may(crewed: Crewed, headers: dict[str, str]) -> None:
    laptop, before = crewed.laptop(), dict(crewed.door.codes)
    sent = {"form_token": token_in(laptop)}
    assert laptop.post("/crew/codes", data=sent, headers=headers).status_code == 303
    assert crewed.door.codes != before


def test_no_other_site_may_read(crewed: Crewed) -> None:
    """No answer names a site that may, whatever it asks for."""
    for method in ("GET", "OPTIONS"):
        answer = crewed.laptop().request(
            method,
            "/jobs.json",
            headers={"origin": "http://evil.example", "access-control-request-method": "GET"},
        )
        assert not [each for each in answer.headers if each.startswith("access-control")]


# Tokens


def plan_path(client: TestClient) -> str:
    """The page of the demo's plan."""
    return f"/plan/{client.get('/jobs.json').json()['plans'][0]['number']}"


def test_every_form_carries_the_token_of_its_session(crewed: Crewed) -> None:
    """Every page, whoever wrote its template."""
    laptop, checked = crewed.laptop(), 0
    for path in ("/", "/crew", plan_path(laptop), "/join"):
        text = laptop.get(path).text
        forms = [
            each for each in text.split("<form")[1:] if 'method="post"' in each.partition(">")[0]
        ]
        token = crewed.app.state.tokens.of(OWNER)
        for each in forms:
            assert f'name="form_token" value="{token}"' in each.partition("</form>")[0], path
            checked += 1
    assert checked > 20


def test_a_page_that_many_ask_for_carries_the_token_of_each(crewed: Crewed) -> None:
    """It is laid out once for all of a role, and holds nothing of one of them."""
    people = [crewed.phone("edit", "Ann"), crewed.phone("edit", "Ben"), crewed.laptop()]
    tokens, pages = [token_in(each) for each in people], []
    for _ in range(2):
        for client, token in zip(people, tokens, strict=True):
            text = client.get(plan_path(client)).text
            assert text.count(f'value="{token}"') > 5
            pages.append(text.replace(token, "own"))
            assert not any(each in pages[-1] for each in (*tokens, "Ann", "Ben"))
    assert len({each for page, each in enumerate(pages) if page % 3 < 2}) == 1
    lea = crewed.phone("view", "Lea")
    assert 'method="post"' not in lea.get(plan_path(lea)).text


@pytest.mark.parametrize("wrong", ["", "x", "é" * 40, "0" * 40])
def test_without_its_token_nothing_changes(crewed: Crewed, wrong: str) -> None:
    laptop, before = crewed.laptop(), dict(crewed.door.codes)
    for sent in (
        {"data": {"form_token": wrong}},
        {"json": {"form_token": wrong}},
        {"content": b"\xff"},
    ):
        answer = laptop.post("/crew/codes", **sent)
        assert answer.status_code == 403
        assert "Load the page again" in answer.text
    assert crewed.door.codes == before


def test_a_token_is_good_for_its_session_alone(crewed: Crewed) -> None:
    """Whoever is in cannot hand the laptop a form with their own."""
    ann, ben, laptop = crewed.phone("edit", "Ann"), crewed.phone("edit", "Ben"), crewed.laptop()
    tokens = [token_in(each) for each in (ann, ben, laptop)]
    assert len(set(tokens)) == 3
    for client, token in ((ann, tokens[1]), (ben, tokens[2]), (laptop, tokens[0])):
        path = "/crew/codes" if client is laptop else "/crew/name"
        sent = {"form_token": token, "name": "C"}
        assert client.post(path, data=sent).status_code == 403


def test_a_token_may_come_as_a_header(crewed: Crewed) -> None:
    ann = crewed.phone("edit", "Ann")
    header = {"x-form-token": token_in(ann)}
    assert ann.post("/crew/name", data={"name": "C"}, headers=header).status_code == 303


def test_a_program_on_the_laptop_needs_none(crewed: Crewed) -> None:
    """What no browser sends; one sign of a browser, and it is needed."""
    plain = TestClient(
        crewed.app,
        "http://localhost:8765",
        client=LAPTOP,
        headers={"user-agent": "curl/8"},
        follow_redirects=False,
    )
    assert plain.post("/crew/codes").status_code == 303
    for sign in (
        {"cookie": "a=b"},
        {"origin": "http://localhost:8765"},
        {"referer": "http://localhost:8765/"},
        {"sec-fetch-site": "none"},
        {"user-agent": "Mozilla/5.0"},
    ):
        assert plain.post("/crew/codes", headers=sign).status_code == 403, sign


def test_the_key_outlives_the_program_and_is_its_owners_alone(tmp_path: Path) -> None:
    made = own_key(tmp_path / "a")
    assert own_key(tmp_path / "a") == made
    assert own_key(tmp_path / "b") != made
    (file,) = (tmp_path / "a").iterdir()
    assert file.stat().st_mode & 0o077 == 0
    file.write_bytes(b"short")
    assert own_key(tmp_path / "a") != made
    ben = Person("s", "Ben", "edit")
    assert Tokens(made).of(ben) != Tokens(own_key(tmp_path / "b")).of(ben)


def test_a_key_that_cannot_be_written_is_a_passing_one(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    assert len(own_key(tmp_path / "file")) == 32


# Sizes


def test_a_body_that_is_too_long_is_cut_off(crewed: Crewed) -> None:
    """Whether its length is told or not."""
    laptop = crewed.laptop()

    def pieces() -> Iterator[bytes]:
        for _ in range(MOST_BYTES // 65536 + 2):
            yield b"a" * 65536

    form = {"content-type": "application/x-www-form-urlencoded", "accept": "application/json"}
    for content in (b"a" * (MOST_BYTES + 1), pieces()):
        answer = laptop.post("/crew/end", content=content, headers=form)
        assert answer.status_code == 413
        assert "more than the 1024 KiB" in answer.json()["error"]["what"]


# What answers carry


def test_every_answer_is_protected(crewed: Crewed) -> None:
    """Pages, parts, JSON, files, redirects, refusals of every kind."""
    laptop, phone = crewed.laptop(), crewed.phone()
    answers = [
        *(
            laptop.get(each)
            for each in ("/", "/crew", "/jobs.json", "/static/app.js", "/nothing", "/openapi.json")
        ),
        *(phone.get(each) for each in ("/", "/join", "/crew.json")),
        laptop.get("/", headers={"host": "evil.example"}),
        laptop.post("/crew/codes"),
        laptop.post("/crew/end", content=b"a" * (MOST_BYTES + 1)),
    ]
    for answer in answers:
        for name, value in HEADERS.items():
            assert answer.headers[name] == value, (answer.request.url, name)
        assert answer.headers["cache-control"]
        assert "server" not in answer.headers
    for unsafe in ("unsafe", "*", "http:", "blob:"):
        assert unsafe not in POLICY
    for wanted in (
        "default-src 'none'",
        "frame-ancestors 'none'",
        "form-action 'self'",
        "base-uri 'none'",
    ):
        assert wanted in POLICY


@pytest.fixture
def odd(tmp_path: Path) -> Iterator[TestClient]:
    """An app with a route that breaks, and others that hand out what people wrote."""
    router = APIRouter()
    script = "<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"

    @router.get("/breaks")
    def breaks() -> None:
        raise ZeroDivisionError("secret in a message")

    @router.get("/picture")
    def picture() -> Response:
        return Response(script, media_type="image/svg+xml")

    @router.get("/pocket")
    def pocket() -> Response:
        return HTMLResponse(
            script, headers={"content-disposition": 'attachment; filename="a.html"'}
        )

    with filled(tmp_path / "library") as library:
        desk = Desk(library)
        app = create_app(desk, hosts=["testserver"])
        app.include_router(router)
        yield TestClient(app)
        desk.close()


def test_what_people_wrote_cannot_run(odd: TestClient) -> None:
    """It is saved and not shown; and shown, it would be sealed off."""
    for path in ("/picture", "/pocket"):
        answer = odd.get(path)
        assert answer.headers["content-security-policy"] == SEALED_POLICY
        assert answer.headers["content-disposition"].startswith("attachment")
    assert "sandbox" in SEALED_POLICY
    assert "script" not in SEALED_POLICY


def test_what_breaks_is_said_without_how(odd: TestClient, caplog: pytest.LogCaptureFixture) -> None:
    """The log says more; the answer is protected like every other."""
    for accept in ("text/html", "application/json"):
        answer = odd.get("/breaks", headers={"accept": accept})
        assert answer.status_code == 500
        for hidden in ("ZeroDivision", "Traceback", "secret", ".py"):
            assert hidden not in answer.text
        assert answer.headers["content-security-policy"] == POLICY
    assert answer.json()["error"]["what"] == "something unexpected happened; nothing was changed"
    assert "ZeroDivisionError" in caplog.text


# Nothing outside the library

AWAY = (
    "../../etc/passwd",
    "../" * 12 + "etc/passwd",
    "/etc/passwd",
    "../secret.csv",
    "spectra/../../secret.csv",
    "C:\\Windows\\win.ini",
    "..\\..\\secret.csv",
    "\\\\server\\share\\a.csv",
    "//server/share/a.csv",
    "file:///etc/passwd",
    "CON",
    "a\x00b",
)


@pytest.mark.parametrize("name", AWAY)
@pytest.mark.parametrize("as_kit", [True, False], ids=["kit", "spectrum"])
def test_no_document_leads_outside(crewed: Crewed, tmp_path: Path, name: str, as_kit: bool) -> None:
    """A plan that names a kit elsewhere, a kit that names a spectrum elsewhere: said on the page,
    and nothing of what lies there is told, nor whether there is anything."""
    library = crewed.desk.library
    for secret in (library.place.folder, library.place.checkouts):
        assert secret is not None
        secret.mkdir(exist_ok=True)
        (secret / "secret.csv").write_text("380,0.123456789\n780,0.123456789\n")
    bundle = library.new_bundle("odd")
    escaped = name.replace("\\", "\\\\").replace("\x00", "\\u0000")
    kit = (
        'format = 1\nname = "k"\n[[filter]]\nname = "a"\nrole = "correction"\n'
        f'spectrum = "{escaped}"\n'
    )
    plan = (
        f'format = 1\nname = "p"\nkit = "{escaped if as_kit else "kit.toml"}"\nmains_hz = 50\n'
        "[camera]\nbalance = { fixed_k = 4300 }\n"
        '[[light]]\nname = "key"\nrole = "key"\nbuiltin = "tungsten 3200 K"\n'
    )
    library.add(bundle, "kit.toml", kit.encode(), by="Eve")
    number = library.add(bundle, "plan.toml", plan.encode(), by="Eve").id
    phone = crewed.phone("edit", "Eve")
    for path in (f"/plan/{number}", f"/plan/{number}.json", "/", "/jobs.json"):
        answer = phone.get(path)
        assert answer.status_code < 500
        for told in ("root:", "0.123456789", "Errno", "Traceback", str(tmp_path)):
            assert told not in answer.text, path
    problem = phone.get(f"/plan/{number}.json").json()["error"]["problems"][0]
    assert problem["where"].startswith("plan.toml, kit (" if as_kit else 'kit.toml, filter "a" (')
    assert problem["message"].startswith(("leads outside the bundle", "there is no "))
