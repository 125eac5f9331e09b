"""Joining, who is in, and what ends a session."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from evencast.store.library import Library
from evencast.store.library.crew import ALPHABET, SHORT_LENGTH
from evencast.web.devices import device_words
from evencast.web.door import COOKIE, Asking, Door
from evencast.web.lockout import Lockout
from evencast.web.pages.crew import say_ago
from tests.libraries import SetClock
from tests.web import HOST, Crewed, filled, token_in


class Seconds:
    """A clock that stands until it is set on."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


def asked(address: str = "a", **given: str) -> Asking:
    return Asking(
        **({"name": "Ben", "code": "", "secret": "", "device": "d"} | given), address=address
    )


def join(client: TestClient, **form: str) -> str:
    """Join by the form; what the cookie says, with its settings."""
    answer = client.post("/join", data={"name": "Ben"} | form)
    assert answer.status_code == 303, answer.text
    assert answer.headers["location"] == "/"
    return str(answer.headers["set-cookie"])


def test_a_phone_joins_with_either_form_of_a_code(crewed: Crewed) -> None:
    """And is then signed with its name; the cookie cannot be read by a script, nor be sent from
    another site, and holds 128 random bits."""
    for number, (role, issued) in enumerate(crewed.door.codes.items()):
        for form in ({"secret": issued.secret}, {"code": f" {issued.short.lower()} "}):
            phone = crewed.phone()
            cookie = join(phone, **form, name=f"N{number}")
            assert {"HttpOnly", "Path=/"} <= {each.strip() for each in cookie.split(";")}
            assert "samesite=strict" in cookie.lower()
            assert "domain" not in cookie.lower()
            assert len(phone.cookies[COOKIE]) * 6 >= 128
            told = phone.get("/crew.json").json()
            assert told["role"] == role
            assert told["codes"] == []


def test_who_is_not_in_sees_the_way_in_alone(crewed: Crewed) -> None:
    """A page leads there, a program is told; nothing of the library is in either."""
    phone = crewed.phone()
    for path in ("/", "/crew", "/plan/1", "/learn", "/no/such/page"):
        answer = phone.get(path)
        assert (answer.status_code, answer.headers["location"]) == (303, "/join"), path
        assert answer.content == b""
    for path in ("/jobs.json", "/crew.json", "/openapi.json", "/no/such.json", "/live"):
        answer = phone.get(path, headers={"accept": "application/json"})
        assert answer.status_code == 401, path
        assert set(answer.json()["error"]) == {"what", "where", "remedy"}
    assert phone.get("/live").status_code == 401
    for path in ("/crew/codes", "/crew/end-all", "/", "/plan/1"):
        assert phone.post(path).status_code == 401, path
    shown = phone.get("/join")
    assert shown.status_code == 200
    assert "bindery" not in shown.text
    assert phone.get("/static/app.css").status_code == 200


@pytest.mark.parametrize(
    "path", ["/join/../", "/static/../", "/static/..%2f..%2fapp.py", "//", "/join/x"]
)
def test_no_way_around(crewed: Crewed, path: str) -> None:
    answer = crewed.phone().get(path)
    assert answer.status_code in (303, 404)
    assert "import" not in answer.text


def test_the_laptop_needs_no_code_and_nobody_can_pretend_to_be_it(crewed: Crewed) -> None:
    """By its inner address alone: neither by a name, nor by what a proxy would say."""
    assert crewed.laptop().get("/crew.json").json()["role"] == "owner"
    for header in ("x-forwarded-for", "forwarded", "x-real-ip"):
        answer = crewed.phone().get("/crew.json", headers={header: "127.0.0.1"})
        assert answer.status_code == 401
    answer = crewed.phone().get("/crew.json", headers={"host": "localhost:8765"})
    assert answer.status_code == 401


def test_codes_are_shown_at_the_laptop_alone(crewed: Crewed) -> None:
    page = crewed.laptop().get("/crew")
    for issued in crewed.door.codes.values():
        assert f"{issued.short[:4]} {issued.short[4:]}" in page.text
    for other in (crewed.phone("edit", "E"), crewed.phone("view", "V")):
        for path in ("/crew", "/crew.json", "/crew/people"):
            text = other.get(path).text
            for issued in crewed.door.codes.values():
                assert issued.secret not in text
                assert issued.short[:4] not in text


def test_new_codes_at_a_tap(crewed: Crewed) -> None:
    """The old stop working, sessions go on; only the laptop may."""
    old, inside = dict(crewed.door.codes), crewed.phone("edit", "Eve")
    refused = inside.post("/crew/codes", data={"form_token": token_in(inside)})
    assert refused.status_code == 403
    assert crewed.door.codes == old
    laptop = crewed.laptop()
    assert laptop.post("/crew/codes", data={"form_token": token_in(laptop)}).status_code == 303
    assert (
        crewed.phone().post("/join", data={"name": "B", "secret": old["edit"].secret}).status_code
        == 403
    )
    assert (
        crewed.phone().post("/join", data={"name": "B", "code": old["edit"].short}).status_code
        == 403
    )
    assert inside.get("/crew.json").status_code == 200
    join(crewed.phone(), secret=crewed.door.codes["edit"].secret)


def test_a_session_ends_everywhere_at_once(crewed: Crewed) -> None:
    """One's own, or, at the laptop, anybody's; nobody else's."""
    ann, ben, laptop = crewed.phone("edit", "Ann"), crewed.phone("view", "Ben"), crewed.laptop()
    ids = {each.name: each.id for each in crewed.door.sessions()}
    sent = {"form_token": token_in(ben), "session": ids["Ann"]}
    assert ben.post("/crew/end", data=sent).status_code == 403
    assert ann.get("/crew.json").status_code == 200
    sent = {"form_token": token_in(laptop), "session": ids["Ann"]}
    assert laptop.post("/crew/end", data=sent).status_code == 303
    assert ann.get("/crew.json").status_code == 401
    assert ann.get("/").headers["location"] == "/join"
    assert laptop.post("/crew/end", data=sent).status_code == 400  # said, where it is gone already
    sent = {"form_token": token_in(ben), "session": ids["Ben"]}
    assert ben.post("/crew/end", data=sent).status_code == 303
    assert ben.get("/crew.json").status_code == 401
    assert crewed.door.sessions() == []


def test_all_sessions_end_and_the_old_codes_with_them(crewed: Crewed) -> None:
    """Who was put out cannot be back at once."""
    inside = [crewed.phone("edit", f"P{number}") for number in range(3)]
    old, laptop = crewed.door.codes["edit"], crewed.laptop()
    assert laptop.post("/crew/end-all", data={"form_token": token_in(laptop)}).status_code == 303
    assert all(each.get("/crew.json").status_code == 401 for each in inside)
    assert crewed.phone().post("/join", data={"name": "B", "secret": old.secret}).status_code == 403


def test_who_is_in(crewed: Crewed) -> None:
    """Name, what they may, their device, when they were last seen."""
    crewed.phone("view", "Ann <b>")
    join(crewed.phone(), secret=crewed.door.codes["edit"].secret, name="Ben")
    told = crewed.laptop().get("/crew.json").json()["members"]
    assert [(each["name"], each["role"], each["seen"]) for each in told] == [
        ("Ann <b>", "view", "now"),
        ("Ben", "edit", "now"),
    ]
    assert told[1]["device"] == "iPhone, Safari"
    assert "Ann &lt;b&gt;" in crewed.laptop().get("/crew").text


def test_a_name_is_changed_later(crewed: Crewed) -> None:
    ann = crewed.phone("edit", "Ann")
    crewed.phone("view", "Ben")
    sent = {"form_token": token_in(ann), "name": "ben"}
    assert ann.post("/crew/name", data=sent).status_code == 303
    assert ann.get("/crew.json").json()["name"] == "ben 2"
    assert ann.post("/crew/name", data=sent | {"name": " "}).status_code == 400
    assert ann.get("/crew.json").json()["name"] == "ben 2"


def test_a_refused_name_keeps_the_code_and_says_why(crewed: Crewed) -> None:
    phone = crewed.phone()
    answer = phone.post("/join", data={"name": "x" * 60, "code": crewed.door.codes["view"].short})
    assert answer.status_code == 400
    assert "Is longer than 40 characters." in answer.text
    assert COOKIE not in phone.cookies
    assert crewed.door.sessions() == []


def test_joining_anew_takes_the_place_of_the_session_before(crewed: Crewed) -> None:
    """Somebody in to look scans the code to change: one device, one line, the same name."""
    phone = crewed.phone("view", "Ann")
    sent = {"form_token": token_in(phone, "/join"), "name": "Ann"}
    sent["secret"] = crewed.door.codes["edit"].secret
    assert phone.post("/join", data=sent).status_code == 303
    assert [(each.name, each.role) for each in crewed.door.sessions()] == [("Ann", "edit")]
    assert phone.post("/join", data={"name": "Ann", "secret": "wrong"}).status_code == 403
    assert len(crewed.door.sessions()) == 1  # a wrong code puts nobody out


def test_sessions_outlive_the_server(tmp_path: Path) -> None:
    """Its codes do not: nobody gets in with them while there is no server, or after."""
    with filled(tmp_path / "library") as library:
        before = Crewed(library)
        with before.laptop():  # with its beginning and its end
            phone = before.phone("edit", "Ann")
            cookie, codes = phone.cookies[COOKIE], dict(before.door.codes)
            assert phone.get("/crew.json").status_code == 200
            token = token_in(phone)
    with Library.open(tmp_path / "library") as library:
        assert all(library.crew.code_of_secret(each.secret) is None for each in codes.values())
        after = Crewed(library)
        again = after.phone()
        again.cookies.set(COOKIE, cookie, domain=HOST.split(":")[0])
        assert again.get("/crew.json").json()["name"] == "Ann"
        sent = {"form_token": token, "name": "Anna"}  # from a page that was open all the while
        assert again.post("/crew/name", data=sent).status_code == 303
        after.close()


def test_without_a_crew_nobody_can_join(tmp_path: Path) -> None:
    from evencast.web.app import create_app
    from evencast.web.desk import Desk

    with filled(tmp_path / "library") as library:
        desk = Desk(library)
        client = TestClient(create_app(desk, hosts=["testserver"]))
        assert client.get("/crew.json").json()["is_open"] is False
        assert "evencast serve --crew" in client.get("/crew").text
        assert "evencast serve --crew" in client.get("/join").text
        answer = client.post("/join", data={"name": "A", "code": "AAAAAAAA"})
        assert answer.status_code == 400
        desk.close()


# Wrong codes


def test_wrong_codes_are_locked_out_and_it_is_said_for_how_long(tmp_path: Path) -> None:
    """From one address: five free, then pauses that double. Scanning works all the same."""
    clock = Seconds()
    with filled(tmp_path / "library") as library:
        crewed = Crewed(library, lockout=Lockout(clock))
        phone, right = crewed.phone(), crewed.door.codes["edit"]
        for _ in range(4):
            assert phone.post("/join", data={"name": "B", "code": "AAAA AAAA"}).status_code == 403
        for seconds in (15, 30, 60):
            answer = phone.post("/join", data={"name": "B", "code": "AAAA AAAA"})
            assert (answer.status_code, answer.headers["retry-after"]) == (429, str(seconds))
            assert f"none is tried for {seconds} seconds" in answer.text
            clock.now += seconds - 1
            answer = phone.post("/join", data={"name": "B", "code": right.short})
            assert answer.status_code == 429, "also the right one waits"
            clock.now += 1
        join(crewed.phone(), secret=right.secret)
        join(phone, code=right.short)
        assert phone.get("/crew.json").status_code == 200
        crewed.close()


def test_many_addresses_are_locked_out_together() -> None:
    clock = Seconds()
    lockout = Lockout(clock)
    free = [lockout.take(f"10.0.0.{number}") for number in range(100)]
    assert free[:40] == [0.0] * 40
    assert all(each > 0.0 for each in free[40:])


def test_many_at_once_are_counted() -> None:
    """A try counts when it is begun, not when its answer is known."""
    lockout = Lockout(Seconds())
    assert [lockout.take("a") for _ in range(6)][4:] == [0.0, 15.0]


def test_a_right_code_does_not_buy_tries_for_the_other() -> None:
    """Somebody with the code to look, who tries for the one to change between right ones."""
    lockout = Lockout(Seconds())
    tries = 0
    while lockout.take("a") == 0.0 and tries < 1000:
        tries += 1
        if lockout.take("a") == 0.0:
            lockout.right("a")
    assert tries <= 40


def test_odds_of_a_month_of_trying() -> None:
    """Played through: from ten thousand addresses, whenever a try is given."""
    clock, lockout = Seconds(), None
    lockout = Lockout(clock)
    tries, number = 0, 0
    while clock.now < 30 * 24 * 3600.0:
        number += 1
        left_s = lockout.take(f"a{number % 10_000}")
        if left_s == 0.0:
            tries += 1
        else:
            clock.now += left_s
    assert 2 * tries / len(ALPHABET) ** SHORT_LENGTH < 1e-6


def test_one_address_in_an_hour_and_after() -> None:
    clock = Seconds()
    lockout = Lockout(clock)
    by_hour = []
    for hour in range(1, 9):
        tries = 0
        while clock.now < 1000.0 + 3600.0 * hour:
            left_s = lockout.take("a")
            tries += left_s == 0.0
            clock.now += left_s
        by_hour.append(tries)
    assert by_hour[0] == 12
    assert max(by_hour[1:]) <= 1


# Small things


def test_last_seen_is_written_now_and_then(tmp_path: Path) -> None:
    clock = SetClock()
    with Library.open(tmp_path / "library", clock=clock) as library:
        door = Door(library.crew, address="http://a", clock=clock)
        _, cookie = door.join(asked(secret=door.codes["view"].secret))
        at = clock.forward(minutes=5)
        assert door.person_of(cookie) is not None
        assert door.sessions()[0].last_seen == at
        assert library.crew.sessions()[0].last_seen < at
        door.keep_seen()
        assert library.crew.sessions()[0].last_seen == door.sessions()[0].last_seen == at
        assert door.person_of("") is None
        assert door.person_of("x" * 100_000) is None


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (-9, "now"),
        (1, "now"),
        (2, "2 minutes ago"),
        (119, "119 minutes ago"),
        (121, "2 hours ago"),
        (60 * 50, "2 days ago"),
    ],
)
def test_ago(minutes: float, said: str) -> None:
    assert say_ago(timedelta(minutes=minutes)) == said


@pytest.mark.parametrize(
    ("agent", "said"),
    [
        (
            "Mozilla/5.0 (Linux; Android 15) AppleWebKit Chrome/131 Mobile Safari/537.36",
            "Android, Chrome",
        ),
        (
            "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) Version/18.0 Safari/604.1",
            "iPhone, Safari",
        ),
        ("Mozilla/5.0 (Macintosh; Intel Mac OS X 10.15; rv:133.0) Firefox/133.0", "Mac, Firefox"),
        ("Mozilla/5.0 (Windows NT 10.0) Chrome/131.0 Safari/537.36 Edg/131.0", "Windows, Edge"),
        ("", "unknown device"),
        ("<script>", "unknown device"),
    ],
)
def test_devices_in_words(agent: str, said: str) -> None:
    assert device_words(agent) == said


def test_the_join_page_is_small_and_by_itself(crewed: Crewed) -> None:
    """No part of the app leads out of it, and no secret is in its address."""
    page = crewed.phone().get("/join").text
    links = re.findall(r'(?:href|src|action)="([^"]*)"', page)
    assert set(links) <= {"/join", "/static/app.css", "/static/join.js"}
    assert crewed.door.link("edit").count("#") == 1
    assert "?" not in crewed.door.link("edit")
