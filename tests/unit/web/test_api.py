"""The description of the API, and that every route does what it says, whatever is sent."""

from __future__ import annotations

import warnings
from collections import Counter
from collections.abc import Iterator
from typing import Any, cast

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from starlette.testclient import TestClient
from starlette.types import ASGIApp, Receive, Scope, Send

from evencast import tables
from evencast.store.library import Document
from evencast.web.described import ALWAYS, FAILURE
from tests.web import BROWSER, LAPTOP, Crewed, filled

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import schemathesis
    from schemathesis.checks import not_a_server_error
    from schemathesis.specs.openapi.checks import (
        content_type_conformance,
        response_schema_conformance,
        status_code_conformance,
    )

CHECKS = (
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
)
FEW, MANY = 6, 100
PROGRAM = {"user-agent": "program", "accept": "application/json"}


@pytest.fixture(scope="module")
def crewed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Crewed]:
    """One app for all: what one case does is there for the next."""
    with filled(tmp_path_factory.mktemp("api") / "library") as library:
        made = Crewed(library)
        yield made
        made.close()


def program(crewed: Crewed) -> TestClient:
    """A program on the laptop, which may do all and needs no token."""
    return TestClient(
        crewed.app,
        "http://localhost:8765",
        client=LAPTOP,
        headers=PROGRAM,
        follow_redirects=False,
        raise_server_exceptions=False,
    )


def operations(crewed: Crewed) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for path, way in crewed.app.openapi()["paths"].items():
        for method, operation in way.items():
            yield path, method, operation


def test_every_way_to_fail_is_declared_in_the_one_shape(crewed: Crewed) -> None:
    described = program(crewed).get("/openapi.json").json()
    assert described == crewed.app.openapi()
    assert described["components"]["schemas"]["Failure"] == FAILURE
    assert "HTTPValidationError" not in str(described)
    count = 0
    for path, method, operation in operations(crewed):
        count += 1
        assert operation.get("description") or operation.get("summary"), path
        assert set(ALWAYS) <= set(operation["responses"]), (method, path)
        for status, response in operation["responses"].items():
            if status >= "400":
                told = response["content"]["application/json"]["schema"]
                assert told == {"$ref": "#/components/schemas/Failure"}, (path, status)
    assert count >= 10


def test_every_page_has_its_twin(crewed: Crewed) -> None:
    """The app's own pages, with what they show as JSON."""
    described = set(crewed.app.openapi()["paths"])
    for page in ("/jobs", "/crew", "/learn", "/learn/ruler", "/learn/worksheet", "/plan/{number}"):
        assert f"{page}.json" in described


def test_there_are_no_pages_about_the_api(crewed: Crewed) -> None:
    """They would load scripts from elsewhere."""
    for path in ("/docs", "/redoc"):
        assert program(crewed).get(path).status_code == 404


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("application/json", b"{"),
        ("application/json", b"\xff\xfe"),
        ("application/json", b"[" * 100_000),
        ("application/x-www-form-urlencoded", b"\xff=%zz&=&&"),
        ("application/x-www-form-urlencoded", b"&".join(b"a%d=1" % n for n in range(3000))),
        ("multipart/form-data", b"--x"),
        ("multipart/form-data; boundary=x", b"--x\r\n\r\nno headers"),
        (
            "multipart/form-data; boundary=x",
            b"--x\r\ncontent-disposition: form-data\r\n\r\na\r\n--x--",
        ),
        ("text/plain", b"name=a"),
        ("", b"\0" * 1000),
    ],
)
def test_a_broken_body_is_told_in_the_one_shape(crewed: Crewed, kind: str, body: bytes) -> None:
    """At every route that takes one."""
    client = program(crewed)
    for path, method, _ in operations(crewed):
        if method != "post" or path == "/crew/codes":
            continue
        where = path.replace("{number}", "1").replace("{light}", "a").replace("{revision}", "1")
        answer = client.post(where, content=body, headers={"content-type": kind})
        assert answer.status_code < 500, (path, answer.text)
        if answer.status_code >= 400:
            assert {"what", "where", "remedy"} <= set(answer.json()["error"]), path


def _at_the_laptop(app: ASGIApp) -> ASGIApp:
    """Every request comes from the laptop itself."""

    async def here(scope: Scope, receive: Receive, send: Send) -> None:
        await app({**scope, "client": LAPTOP}, receive, send)

    return here


def _fresh(crewed: Crewed, name: str) -> tuple[Document, Document]:
    """A plan and its kit, as nobody has changed them yet."""
    library = crewed.desk.library
    bundle = library.new_bundle(f"{name} {library.last_change()}")
    texts = tables.demo_documents()
    library.import_files(bundle, {each: texts[each].encode() for each in texts}, by="Ada")
    return library.document(bundle, "plan.toml"), library.document(bundle, "kit.toml")


def _make_real(crewed: Crewed, case: Any, documents: tuple[Document, Document], turn: int) -> None:
    """Have a request name what is there: a plan, a kit, a light, the newest revision."""
    at = documents["/kit/" in case.path]
    document = crewed.desk.library.document(at.bundle, at.name)
    held = document.holds
    real: dict[str, Any] = {
        "number": at.bundle.id if "/bundle/" in case.path else document.id,
        "revision": 1,
        "slug": "ruler",
        "based_on": document.head.number,
        "document": document.id,
        "light": held[turn % len(held)] if held else "",
        "setup": "",
        "balance": "4300K",
        "mired": 220.0,
        "line": f"tungsten 650, {turn % 9 + 1} m, flood",
    }
    for named in (case.path_parameters, case.query, case.body):
        if isinstance(named, dict):
            named.update({name: real[name] for name in real if name in named})


def _tried(
    crewed: Crewed, operation: Any, documents: tuple[Document, Document], count: int
) -> Counter[int]:
    """How often each status was answered; anything undeclared fails."""
    answered: Counter[int] = Counter()

    @settings(
        max_examples=count,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
        database=None,
        derandomize=True,
        deadline=None,
    )
    @given(case=operation.as_strategy())
    def try_it(case: Any) -> None:
        turn = answered.total()
        if turn % 3:
            _make_real(crewed, case, documents, turn)
        answer = case.call(base_url="http://localhost:8765", headers=PROGRAM)
        answered[answer.status_code] += 1
        case.validate_response(answer, checks=CHECKS)
        assert b"Traceback" not in answer.content

    try_it()
    return answered


def _run(crewed: Crewed, count: int) -> None:
    """So many requests to every route, made from what it says that it takes."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        schema = schemathesis.openapi.from_dict(crewed.app.openapi())
        schema.app = _at_the_laptop(crewed.app)
    faults: list[str] = []
    answered: Counter[int] = Counter()
    for found in schema.get_all_operations():
        operation = cast(Any, found).ok()
        documents = _fresh(crewed, "".join(filter(str.isalnum, operation.label)))
        try:
            answered += _tried(crewed, operation, documents, count)
        except (Exception, BaseExceptionGroup) as error:
            faults.append(f"{operation.label}: {str(error)[:1500]}")
    assert not faults, "\n\n".join(faults)
    assert {200, 303, 400, 422} <= set(answered), answered
    assert sum(answered.values()) > 5 * count


def test_every_route_keeps_its_word(crewed: Crewed) -> None:
    """A few requests to each: no 500, and what it answers is what it says."""
    _run(crewed, FEW)


@pytest.mark.long
def test_every_route_keeps_its_word_at_length(crewed: Crewed) -> None:
    _run(crewed, MANY)


def test_a_browser_gets_the_failure_as_a_page(crewed: Crewed) -> None:
    client = crewed.laptop()
    answer = client.get("/plan/999999", headers={"accept": "text/html"} | BROWSER)
    assert answer.status_code == 400
    assert answer.headers["content-type"].startswith("text/html")
    assert "there is no such plan here" in answer.text.casefold()
