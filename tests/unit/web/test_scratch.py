"""Scratch: every sum as the action works it out, wrong values in words, and what is kept."""

from __future__ import annotations

import tomllib
from dataclasses import asdict
from typing import Any

import pytest
from starlette.testclient import TestClient

from evencast.actions.light import light
from evencast.actions.load import load
from evencast.actions.ratio import ratio
from evencast.actions.through import through
from evencast.store.library.values import Document
from evencast.web.desk import Desk
from evencast.web.failures import as_said
from evencast.web.scratch_sums import SUMS


def worked(client: TestClient, slug: str, **typed: str) -> dict[str, Any]:
    found = client.get(f"/scratch/{slug}.json", params=typed).json()
    assert isinstance(found, dict)
    return found


def same(shown: Any, answer: Any) -> bool:
    """Whether JSON says what an answer says; pairs come as lists."""
    return bool(_plain(shown) == _plain(asdict(answer)))


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items()}
    return [_plain(each) for each in value] if isinstance(value, list | tuple) else value


@pytest.mark.parametrize("slug", [each.slug for each in SUMS])
def test_every_sum_shows_an_example_and_its_twin(client: TestClient, slug: str) -> None:
    page, twin = client.get(f"/scratch/{slug}"), worked(client, slug)
    assert page.status_code == 200
    assert twin["wrong"] is None
    assert twin["told"][1:] in page.text
    assert twin["rows"]
    assert twin["answer"]
    assert all(f'name="{each["name"]}"' in page.text for each in twin["fields"])
    assert page.text.count("<label for=") == len(twin["fields"])


def test_sums_are_those_of_the_actions(client: TestClient, desk: Desk, kit: Document) -> None:
    assert same(worked(client, "ratio")["answer"], ratio("400lx", "4:1"))
    shown = worked(
        client, "load", loads="2x650; 1.2kW pf 0.6", volts="120", breaker="20", margin="80"
    )
    done = load(["2x650", "1.2kW pf 0.6"], volts=120, breaker_a=20, margin_percent=80)
    assert same(shown["answer"], done)
    assert same(worked(client, "light", light="FL2")["answer"], light("FL2", kind=None))
    typed = {"light": "FL2", "filters": "worn half CTB; half CTO", "kit": str(kit.id)}
    done_through = through(
        "FL2", ["worn half CTB", "half CTO"], kind=None, kit=desk.open(kit.id).path
    )
    assert same(worked(client, "through", **typed)["answer"], done_through)


def test_stop_is_read_in_every_unit(client: TestClient) -> None:
    usual = {"light": "650 tungsten 3m flood", "ei": "800", "shutter": "180", "at": "3m"}
    for unit, read in (("lx", "1400"), ("fc", "130"), ("EV", "9"), ("f/", "4"), ("cd", "9000")):
        found = worked(client, "stop", **usual, unit=unit, read=read)
        assert found["wrong"] is None, found["wrong"]
        assert found["answer"]["f_number"][0] > 1
    stop = worked(client, "stop", **usual, unit="f/", read="4", want="4")
    assert stop["told"].endswith("gives f/4, f/4 as wanted.")
    lost = worked(client, "stop", **usual, unit="f/", read="4", scrims="double", through="ND 0.3")
    low, high = lost["answer"]["f_number"]  # a double and ND 0.3 take a stop each: f/4 becomes f/2
    assert 1.85 < low < 2.0 < high < 2.15


@pytest.mark.parametrize(
    ("slug", "typed", "said"),
    [
        (
            "stop",
            {"light": "650 tungsten 3m flood", "ei": "many", "shutter": "180"},
            "not a number",
        ),
        ("stop", {"light": "", "ei": "800", "shutter": "180"}, ""),
        ("stop", {"light": "x" * 5000, "ei": "800", "shutter": "180"}, ""),
        ("ratio", {"key": "100lx", "fill": "400lx"}, "brighter than the key"),
        ("load", {"loads": "650", "volts": "0", "breaker": "16", "margin": "80"}, "not above 0"),
        ("load", {"loads": "", "volts": "230", "breaker": "16", "margin": "80"}, ""),
        ("through", {"light": "FL2", "filters": "half CTX"}, "no filter is called"),
        ("through", {"light": "FL2", "filters": "half CTB", "kit": "999"}, "no such kit"),
        ("through", {"light": "FL2", "filters": "half CTB", "kit": "9" * 40}, "no such kit"),
        ("match", {"light": "FL2", "aim": "warm", "role": "key", "layers": "2"}, "not an aim"),
        ("match", {"light": "FL2", "aim": "3200K", "role": "key", "layers": "99"}, ""),
        ("match", {"light": "FL2", "aim": "3200K", "role": "\x00", "layers": "1e9"}, ""),
        ("light", {"light": "../../../../etc/passwd"}, "outside the bundle"),
        ("light", {"light": "/etc/passwd.csv"}, "outside the bundle"),
        ("through", {"light": "FL2", "filters": "/etc/x.csv"}, "outside the bundle"),
    ],
)
def test_wrong_values_are_said_in_words(
    client: TestClient, slug: str, typed: dict[str, str], said: str
) -> None:
    found = worked(client, slug, **typed)
    page = client.get(f"/scratch/{slug}", params=typed)
    assert page.status_code == 200
    assert "Traceback" not in page.text
    if found["wrong"] is None:
        assert found["answer"] is not None  # understood after all, by what was left out
        assert not said
        return
    assert said in found["wrong"]["what"]
    assert "--" not in found["wrong"]["where"]
    assert 'class="failure"' in page.text


def test_no_sum_is_said(client: TestClient) -> None:
    assert client.get("/scratch/sum").status_code == 400
    assert client.get("/scratch.json").json()["slug"] == SUMS[0].slug


def test_light_is_kept_in_a_plan_that_is_there(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    line = worked(
        client,
        "stop",
        light="650 tungsten 3m flood",
        read="1400",
        unit="lx",
        at="3m",
        ei="800",
        shutter="180",
    )["line"]
    reply = client.post("/scratch/keep", data={"line": line, "plan": plan.id})
    assert reply.headers["location"] == f"/plan/{plan.id}"
    made = tomllib.loads(desk.library.read(plan).content.decode())["light"][-1]
    assert made["builtin"] == "tungsten 3200 K"
    assert made["watts"] == 650
    assert made["level"] == {"lux": 1400, "focus": "flood", "distance_m": 3}


def test_light_is_kept_in_a_new_plan(first_client: TestClient, empty: Desk) -> None:
    reply = first_client.post("/scratch/keep", data={"line": "FL2", "name": "night bus"})
    made = empty.library.documents(kind="plan")[0]
    assert reply.headers["location"] == f"/plan/{made.id}"
    assert made.title == "night bus"
    assert made.holds == ("FL2",)
    assert first_client.get(f"/plan/{made.id}").status_code == 200


@pytest.mark.parametrize(
    "data", [{"line": "hello", "name": "x"}, {"line": "FL2"}, {"line": "", "name": "x"}]
)
def test_nothing_is_begun_for_what_cannot_be_kept(
    first_client: TestClient, empty: Desk, data: dict[str, str]
) -> None:
    reply = first_client.post("/scratch/keep", data=data)
    assert reply.status_code in (400, 422)
    assert 'class="failure"' in reply.text
    assert empty.library.bundles() == []


def test_whoever_joined_to_look_sums_and_keeps_nothing(looker: TestClient, plan: Document) -> None:
    assert "Keep in a plan" not in looker.get("/scratch/stop").text
    reply = looker.post("/scratch/keep", data={"line": "FL2", "plan": plan.id})
    assert reply.status_code == 403
    assert "joined to look" in reply.text


def test_nothing_is_told_in_the_marks_of_the_command_line() -> None:
    assert as_said("Read a stop (--stop) or give --to, as in `serve --crew`.") == (
        "Read a stop or give to, as in `serve --crew`."
    )
