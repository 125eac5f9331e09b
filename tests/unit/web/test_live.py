"""Changes reach the other pages; whoever does not take them in is let go."""

from __future__ import annotations

import asyncio
import json
import socket
import threading
import time
import tracemalloc
from collections.abc import AsyncIterator, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import httpx
import pytest

from evencast.web.live import MOST_PAGES, MOST_WAITING, EventStream, Live
from evencast.web.serve import listening
from tests.web import BROWSER, Listener, filled, served

WITHIN_S = 2.0


async def _opened(live: Live, count: int, person: str = "") -> list[AsyncIterator[str]]:
    """So many pages that listen, each of which has had its first line."""
    pages = [live.listen(person or str(number)) for number in range(count)]
    for each in pages:
        assert await anext(each) == "retry: 1000\n\n"
    return pages


def run(work: Any) -> None:
    with ThreadPoolExecutor(1) as aside:  # in this thread a browser's loop may be running
        aside.submit(lambda: asyncio.run(asyncio.wait_for(work, 60.0))).result()


def test_a_session_that_ends_takes_its_pages_with_it() -> None:
    async def work() -> None:
        live = Live(list)
        await live.begin()
        ann, ben = await _opened(live, 1, "ann"), await _opened(live, 1, "ben")
        live.end(["ann"])
        assert [each async for each in ann[0]] == []
        live.tell("job", {"number": 1})
        assert json.loads((await anext(ben[0])).split("data: ")[1]) == {"number": 1}
        assert live.listening == 1
        await live.close()
        assert [each async for each in ben[0]] == []
        assert live.listening == 0

    run(work())


def test_a_page_that_takes_nothing_in_is_let_go() -> None:
    """The others are told everything, in order, and wait for nobody."""

    async def work() -> None:
        live = Live(list)
        await live.begin()
        (slow,) = await _opened(live, 1, "slow")
        (quick,) = await _opened(live, 1, "quick")
        got = []
        for number in range(MOST_WAITING + 20):
            live.tell("job", {"number": number})
            got.append(json.loads((await anext(quick)).split("data: ")[1])["number"])
        assert got == list(range(MOST_WAITING + 20))
        assert [each async for each in slow] == []
        assert live.listening == 1
        await live.close()

    run(work())


def test_one_session_cannot_listen_without_end() -> None:
    async def work() -> None:
        live = Live(list)
        await live.begin()
        pages = await _opened(live, MOST_PAGES + 5, "ann")
        assert live.listening == MOST_PAGES
        for each in pages[:5]:
            assert [event async for event in each] == []
        await live.close()

    run(work())


def test_a_connection_that_is_stuck_is_ended() -> None:
    """Nothing reads at the other end, and sending does not come back."""

    async def work() -> None:
        live, sent = Live(list), []
        await live.begin()

        async def send(message: Any) -> None:
            sent.append(message["type"])
            if len(sent) > 1:
                await asyncio.sleep(3600.0)

        stream = EventStream(live.listen("ann"), slow_s=0.05)
        await stream.stream_response(send)
        await asyncio.sleep(0)
        assert sent == ["http.response.start", "http.response.body"]
        await live.close()

    run(work())


def test_memory_is_flat_with_many_pages() -> None:
    """Thirty pages, as many events as in ten minutes of edits, five pages that take nothing in."""

    async def work() -> None:
        live = Live(list)
        await live.begin()
        stuck = await _opened(live, 5, "stuck")
        pages = await _opened(live, 30)
        told = {"change": 1, "document": 2, "by": "Ada", "note": "the key is 2 m nearer " * 4}

        async def edits(count: int) -> None:
            for _ in range(count):
                live.tell("changed", told)
                for each in pages:
                    await anext(each)

        await edits(200)
        tracemalloc.start()
        await edits(50)
        before = tracemalloc.get_traced_memory()[0]
        await edits(400)
        grown = tracemalloc.get_traced_memory()[0] - before
        tracemalloc.stop()
        assert grown < 100_000, grown
        assert len(stuck) == 5
        await live.close()

    run(work())


# The real server


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Any:
    from evencast.web.interfaces import interfaces

    place = tmp_path_factory.mktemp("live") / "library"
    filled(place).close()
    found = interfaces()
    options = ("--crew", "--interface", found[0].name) if found else ()
    with served(place, *options) as told:
        yield told


OPENED: list[httpx.Client] = []


@pytest.fixture(autouse=True)
def _all_closed() -> Iterator[None]:
    yield
    while OPENED:
        OPENED.pop().close()


def browser(url: str) -> httpx.Client:
    """A browser, closed at the end of the test."""
    OPENED.append(httpx.Client(base_url=url, headers=BROWSER))
    return OPENED[-1]


def phone(server: dict[str, Any], role: str, name: str) -> httpx.Client:
    """A phone that has joined by its code; the laptop's own browser where there is no network."""
    if server["crew"] is None:
        pytest.skip("this machine is on no network")
    client = browser(server["crew"])
    code = next(each["code"] for each in server["codes"] if each["role"] == role)
    assert client.post("/join", data={"name": name, "code": code}).status_code == 303
    return client


def token(client: httpx.Client) -> dict[str, str]:
    text = client.get("/crew").text
    return {"form_token": text.partition('name="form_token" value="')[2].partition('"')[0]}


def test_a_change_reaches_the_others_in_time(server: dict[str, Any]) -> None:
    """Two who look and the laptop, each within two seconds of the edit being acknowledged; what
    they are told holds no secret."""
    ann, ben, cleo = (phone(server, r, n) for r, n in (("edit", "A"), ("view", "B"), ("view", "C")))
    laptop = browser(server["url"])
    listeners = [Listener(each) for each in (ben, cleo, laptop)]
    plan = ann.get("/jobs.json").json()["plans"][0]["number"]
    shown = ann.get(f"/plan/{plan}.json").json()["revision"]
    sent = token(ann) | {"based_on": str(shown), "line": "tungsten 650, 3 m, flood"}
    time.sleep(0.3)
    answer = ann.post(f"/plan/{plan}/lights", data=sent)
    done = time.monotonic()
    assert answer.status_code in (200, 303), answer.text
    for each in listeners:
        told, at = each.until("changed")
        assert told["document"] == plan
        assert told["number"] == shown + 1
        assert told["by"] == "A"
        assert at - done < WITHIN_S
        assert set(told) == {"change", "document", "bundle", "number", "by", "note"}
    for client, each in zip((ben, cleo, laptop), listeners, strict=True):
        assert client.get(f"/plan/{plan}.json").json()["revision"] == shown + 1
        each.close()


def test_events_end_with_the_session(server: dict[str, Any]) -> None:
    """At once, not at the next event."""
    dan = phone(server, "view", "Dan")
    listener = Listener(dan)
    laptop = browser(server["url"])
    members = laptop.get("/crew.json").json()["members"]
    session = next(each["id"] for each in members if each["name"] == "Dan")
    ended = threading.Event()

    def read() -> None:
        listener.to_the_end()
        ended.set()

    threading.Thread(target=read, daemon=True).start()
    time.sleep(0.3)
    assert not ended.is_set()
    assert laptop.post("/crew/end", data=token(laptop) | {"session": session}).status_code == 303
    assert ended.wait(WITHIN_S)
    assert dan.get("/live").status_code == 401


def test_ctrl_c_ends_it_cleanly(tmp_path: Path) -> None:
    """With a page that listens: in time, with nothing on the terminal but what it says."""
    import signal

    with served(tmp_path / "library") as told:
        process = told["process"]
        listener = Listener(browser(told["url"]))
        started = time.monotonic()
        process.send_signal(signal.SIGINT)
        listener.to_the_end()
        assert process.wait(20) == 0
        assert time.monotonic() - started < 10.0


def test_a_small_answer_does_not_wait_for_the_phone() -> None:
    """Else a network sends the second part of an answer only when the phone has thanked for the
    first, which takes a phone some 40 ms."""

    async def asked() -> int:
        found: list[int] = []

        async def answer(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            own = writer.get_extra_info("socket")
            found.append(own.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        with listening("127.0.0.1", 0) as listens:
            server = await asyncio.start_server(answer, sock=listens)
            reader, writer = await asyncio.open_connection(*listens.getsockname())
            await reader.read()
            writer.close()
            server.close()
        return found[0]

    with ThreadPoolExecutor(1) as aside:  # in this thread another loop may be running
        assert aside.submit(lambda: asyncio.run(asked())).result() != 0
