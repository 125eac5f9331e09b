"""The plan page as a person uses it: every journey by forms alone, as without script."""

from __future__ import annotations

import time
import tomllib
from typing import Any

import pytest
from starlette.testclient import TestClient

from evencast.store.library.values import Document
from evencast.web.desk import Desk
from evencast.web.people import Person

PART = {"HX-Request": "true"}
KEY = "key Fresnel"


def plan_of(desk: Desk, plan: Document) -> dict[str, Any]:
    return tomllib.loads(desk.library.read(plan).content.decode())


def light_of(desk: Desk, plan: Document, name: str) -> dict[str, Any]:
    return next(each for each in plan_of(desk, plan)["light"] if each["name"] == name)


def head(desk: Desk, plan: Document) -> int:
    return desk.library.read(plan).number


def note(desk: Desk, plan: Document) -> str:
    return desk.library.read(plan).record.note


def send(
    client: TestClient, desk: Desk, plan: Document, path: str, based_on: Any = 0, **fields: Any
) -> Any:
    data = {"based_on": based_on or head(desk, plan), **fields}
    return client.post(f"/plan/{plan.id}/{path}", data=data, headers=PART)


def saying(fields: str, **others: str) -> dict[str, str]:
    """Fields of a form as the page shows them, but for what somebody typed."""
    return {**dict.fromkeys(fields.split(), ""), **others}


def form_of(client: TestClient, plan: Document, path: str, **query: str) -> dict[str, Any]:
    found = client.get(f"/plan/{plan.id}/{path}.json", params=query).json()
    fields = {each["name"]: each["value"] for group in found["groups"] for each in group["fields"]}
    return {**fields, **found["hidden"]}


def test_two_plans_alike_have_each_its_own_kit(first_client: TestClient, empty: Desk) -> None:
    """The demo begun twice: both bundles hold the same to the byte."""
    kits = []
    for _ in range(2):
        plan = first_client.post("/demo").headers["location"]
        number = int(plan.rpartition("/")[2])
        kit = first_client.get(f"{plan}.json").json()["kit_number"]
        assert f"/kit/{kit}?plan={number}" in first_client.get(plan).text
        assert empty.document(kit).bundle == empty.document(number).bundle
        kits.append(kit)
    assert kits[0] != kits[1]


# Entry


def test_page_shows_every_light_and_twin_says_the_same(client: TestClient, plan: Document) -> None:
    page = client.get(f"/plan/{plan.id}")
    twin = client.get(f"/plan/{plan.id}.json").json()
    assert page.status_code == 200
    names = [each["name"] for each in twin["lights"]]
    assert len(names) == 8
    assert all(f"<bdi>{name}</bdi>" in page.text for name in names)
    assert twin["verdict"] == twin["verdict"].strip()
    assert "4300 K" in twin["verdict"]


def test_typed_line_is_understood_as_it_is_typed(client: TestClient, plan: Document) -> None:
    shown = client.get(
        f"/plan/{plan.id}/entry",
        params={"line": "tungsten 650, 3 m, flood", "part": "understood"},
        headers=PART,
    )
    assert "650 W" in shown.text
    assert "flood" in shown.text
    asked = client.get(f"/plan/{plan.id}/entry.json", params={"line": "HMI 4000"}).json()
    assert not asked["ready"]
    assert [each["text"] for each in asked["asks"][0]["answers"]] == ["4000 W", "4000K", "4000 lux"]


def test_enter_adds_the_light_and_undo_takes_it_out(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    before = desk.library.read(plan)
    added = send(client, desk, plan, "lights", line="tungsten 650, 3 m, flood")
    assert added.status_code == 200
    assert light_of(desk, plan, "tungsten 650")["level"] == {
        "watts": 650,
        "focus": "flood",
        "distance_m": 3,
    }
    assert "Undo" in added.text
    undone = send(client, desk, plan, "bring-back", revision=before.number)
    assert undone.status_code == 200
    assert desk.library.read(plan).content == before.content


def test_taps_make_the_same_light_as_the_line(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    tapped = send(
        client, desk, plan, "lights", kind="0", size_0="650 W", size_2="575 W", distance="3 m"
    )
    assert tapped.status_code == 200
    light = light_of(desk, plan, "tungsten 650")
    assert light["watts"] == 650
    assert light["level"]["distance_m"] == 3


@pytest.mark.parametrize("kind", range(7))
def test_every_chip_is_a_light(client: TestClient, plan: Document, kind: int) -> None:
    chips = client.get(f"/plan/{plan.id}/entry.json").json()["kinds"][kind]
    from evencast.web.pages.plan_entry import tapped_line

    for size in chips["sizes"]:
        line = tapped_line(str(kind), size["value"], "2 m", "")
        found = client.get(f"/plan/{plan.id}/entry.json", params={"line": line}).json()
        assert found["ready"], (line, found["asks"], found["problem"])
        assert not found["lost"], line


def test_line_that_asks_is_not_lost(client: TestClient, desk: Desk, plan: Document) -> None:
    before = head(desk, plan)
    asked = send(client, desk, plan, "lights", line="HMI 4000")
    assert asked.status_code == 422
    assert 'value="HMI 4000"' in asked.text
    assert "4000K" in asked.text
    assert head(desk, plan) == before


def test_six_lights_by_line(client: TestClient, desk: Desk, plan: Document) -> None:
    for line in ("tungsten 650 3 m", "tungsten 650 3 m", "HMI 1200 W 5600K 5 m") * 2:
        assert send(client, desk, plan, "lights", line=line).status_code == 200
    names = [each["name"] for each in plan_of(desk, plan)["light"]][8:]
    assert len(names) == len(set(names)) == 6


def test_two_people_add_the_same_light_at_once(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    seen = head(desk, plan)
    desk.save(
        plan,
        desk.library.read(plan).content.decode() + "\n# a remark\n",
        based_on=seen,
        by=Person("2", "Ada", "edit"),
        note="a remark",
    )
    for _ in range(2):
        send(client, desk, plan, "lights", based_on=seen, line="tungsten 650 3 m")
    names = [each["name"] for each in plan_of(desk, plan)["light"]][8:]
    assert names == ["tungsten 650", "tungsten 650 2"]


def test_form_sent_twice_is_done_once(client: TestClient, desk: Desk, plan: Document) -> None:
    seen = head(desk, plan)
    for _ in range(2):
        sent = send(client, desk, plan, "lights", based_on=seen, line="tungsten 650 3 m")
        assert sent.status_code == 200
    assert [each["name"] for each in plan_of(desk, plan)["light"]][8:] == ["tungsten 650"]


# Rows


def test_level_by_thirds_duplicate_and_remove(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    send(client, desk, plan, "step", light=KEY, thirds=1)
    assert light_of(desk, plan, KEY)["level"]["lux"] == pytest.approx(1400 * 2 ** (1 / 3), rel=1e-3)
    send(client, desk, plan, "duplicate", light=KEY)
    assert light_of(desk, plan, "key Fresnel 2")["watts"] == light_of(desk, plan, KEY)["watts"]
    removed = send(client, desk, plan, "remove", light=KEY)
    assert removed.status_code == 200
    assert KEY not in [each["name"] for each in plan_of(desk, plan)["light"]]
    assert "also from the spot" in note(desk, plan)


def test_edit_changes_what_was_typed_and_nothing_else(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    before = desk.library.read(plan).content.decode()
    fields = form_of(client, plan, "edit", light=KEY)
    assert fields["level.lux"] == "1400"
    assert fields["size"] == "150 mm"
    done = send(client, desk, plan, "edit", **fields | {"level.lux": "1600", "aim.mired": "20"})
    assert done.status_code == 200
    after = desk.library.read(plan).content.decode()
    changed = set(after.splitlines()) ^ set(before.splitlines())
    assert len(changed) == 3
    assert all("level" in each or "aim" in each for each in changed)
    assert note(desk, plan) == "key Fresnel: level 1400 lx -> 1600 lx; aim mired 20 mired warm"


def test_form_as_shown_changes_nothing(client: TestClient, desk: Desk, plan: Document) -> None:
    for light in (each["name"] for each in plan_of(desk, plan)["light"]):
        before = desk.library.read(plan)
        fields = form_of(client, plan, "edit", light=light)
        assert send(client, desk, plan, "edit", **fields).status_code == 200
        assert desk.library.read(plan).number == before.number, light


def test_bad_value_stands_at_its_field_and_what_was_typed_stays(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    before = head(desk, plan)
    fields = form_of(client, plan, "edit", light=KEY)
    told = send(
        client, desk, plan, "edit", **fields | {"level.lux": "-4", "size": "wide", "name": "lamp"}
    )
    assert told.status_code == 422
    assert 'value="-4"' in told.text
    assert 'value="wide"' in told.text
    assert 'value="lamp"' in told.text
    assert told.text.count('aria-invalid="true"') == 1  # the first pass says what is no length
    again = send(client, desk, plan, "edit", **fields | {"level.lux": "-4"})
    assert "should be above 0" in again.text
    assert head(desk, plan) == before


def test_rename_follows_everywhere(client: TestClient, desk: Desk, plan: Document) -> None:
    fields = form_of(client, plan, "edit", light=KEY)
    send(client, desk, plan, "edit", **fields | {"name": "the key", "level.lux": "900"})
    assert light_of(desk, plan, "the key")["level"]["lux"] == 900
    spots = [each["name"] for spot in plan_of(desk, plan)["spot"] for each in spot["light"]]
    assert "the key" in spots
    assert KEY not in spots


# On set


def test_reading_is_saved_and_answered_with_the_trim(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    told = send(
        client,
        desk,
        plan,
        "read",
        light=KEY,
        balance="3400K",
        cct_k="3150",
        now="2031-05-04T16:20+02:00",
    )
    assert told.status_code == 200
    setup = plan_of(desk, plan)["setup"][0]
    assert setup["name"] == "first"
    assert setup["light"] == [
        {"name": KEY, "read": {"cct_k": 3150, "time": "2031-05-04T16:20+02:00"}}
    ]
    trim = client.get(
        f"/plan/{plan.id}/trim.json",
        params={"light": KEY, "setup": "first", "balance": "3400K"},
    ).json()
    assert trim["answer"]["move"] == "add"
    assert trim["trim"].startswith("add ")
    assert f"{trim['trim'][0].upper()}{trim['trim'][1:]}" in told.text
    done = send(
        client, desk, plan, "trim", light=KEY, setup="first", balance="3400K", trim=trim["trim"]
    )
    assert done.status_code == 200
    entry = plan_of(desk, plan)["setup"][0]["light"][0]
    assert entry["rigged"]["filters"] == trim["answer"]["after_hangs"]["filters"]
    assert "read" not in entry


def test_a_trim_of_what_was_not_read_says_what_to_tap(client: TestClient, plan: Document) -> None:
    """In the words of the page, not in those of the command line."""
    told = client.get(f"/plan/{plan.id}/trim.json", params={"light": KEY}).json()
    assert (
        told["problem"] == f"Nothing was read of {KEY} yet. Tap Read, and type what the meter says."
    )
    page = client.get(f"/plan/{plan.id}/trim", params={"light": KEY}).text
    assert "Tap Read" in page
    assert "--" not in told["problem"]
    other = client.get(f"/plan/{plan.id}/trim.json", params={"light": "no such lamp"}).json()
    assert "no such lamp" in other["problem"]
    assert "Tap Read" not in other["problem"]


def test_trim_that_is_another_by_now_is_shown_and_not_done(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    send(client, desk, plan, "read", light=KEY, balance="3400K", cct_k="3150", now="")
    before = head(desk, plan)
    told = send(
        client, desk, plan, "trim", light=KEY, setup="first", balance="3400K", trim="add a brick"
    )
    assert told.status_code == 200
    assert "Do it" in told.text
    assert head(desk, plan) == before


def test_reading_of_nothing_is_refused_in_its_form(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    told = send(client, desk, plan, "read", light=KEY, sky="overcast")
    assert told.status_code == 422
    assert "nothing was read" in told.text
    assert 'value="overcast"' in told.text


def test_rigged_begins_with_planned(client: TestClient, desk: Desk, plan: Document) -> None:
    solve(client, desk, plan)
    planned = next(each for each in plan_of(desk, plan)["setup"][0]["light"] if each["name"] == KEY)
    fields = form_of(client, plan, "rig", light=KEY, setup="first")
    assert fields["filters"].split("; ") == planned["planned"]["filters"]
    told = send(client, desk, plan, "rig", **fields | {"distance": "2.5 m", "note": "flag left"})
    assert told.status_code == 200
    rigged = next(each for each in plan_of(desk, plan)["setup"][0]["light"] if each["name"] == KEY)
    assert rigged["rigged"] == planned["planned"] | {"distance_m": 2.5, "note": "flag left"}


# Solving


def solve(client: TestClient, desk: Desk, plan: Document, **fields: str) -> dict[str, Any]:
    before = head(desk, plan)
    send(client, desk, plan, "solve", **fields)
    deadline = time.monotonic() + 60
    while head(desk, plan) == before and time.monotonic() < deadline:
        time.sleep(0.1)
    assert head(desk, plan) == before + 1, client.get(f"/plan/{plan.id}/solve.json").json()
    found: dict[str, Any] = client.get(f"/plan/{plan.id}/solve.json").json()
    return found


def test_solving_keeps_its_answer_beside_what_was_edited_meanwhile(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    found = solve(client, desk, plan)
    assert found["planned"]
    assert not found["stale"]
    assert len(found["ways"]) > 1
    assert found["ways"][0]["hangs"]
    assert note(desk, plan).startswith("solved: balance at ")
    page = client.get(f"/plan/{plan.id}").text
    assert "Other ways" in page
    assert "Why" in page
    send(client, desk, plan, "step", light=KEY, thirds=-1)
    assert "Stale" in client.get(f"/plan/{plan.id}").text


def test_another_way_is_picked(client: TestClient, desk: Desk, plan: Document) -> None:
    found = solve(client, desk, plan)
    way = next(each for each in found["ways"] if not each["hangs"])
    assert send(client, desk, plan, "pick", setup="first", way=way["number"]).status_code == 200
    after = client.get(f"/plan/{plan.id}/solve.json").json()["ways"]
    assert after[way["number"]]["hangs"]
    assert f"planned as {way['name']}" in note(desk, plan)


def test_solving_at_the_balance_of_the_page(client: TestClient, desk: Desk, plan: Document) -> None:
    solve(client, desk, plan, at="page", balance="5000K")
    assert plan_of(desk, plan)["setup"][0]["balance_k"] == 5000


# Set-ups and the job


def test_setups_are_added_renamed_removed(client: TestClient, desk: Desk, plan: Document) -> None:
    send(client, desk, plan, "setups", name="afternoon")
    send(client, desk, plan, "balance", setup="afternoon", balance="4600K")
    send(client, desk, plan, "setups", name="dusk", copy_of="afternoon")
    assert [(e["name"], e["balance_k"]) for e in plan_of(desk, plan)["setup"]] == [
        ("afternoon", 4600),
        ("dusk", 4600),
    ]
    send(client, desk, plan, "setups/rename", setup="dusk", name="night")
    send(client, desk, plan, "setups/remove", setup="afternoon")
    assert [each["name"] for each in plan_of(desk, plan)["setup"]] == ["night"]
    assert "4600 K" in client.get(f"/plan/{plan.id}").text


def test_camera_spot_and_circuit(client: TestClient, desk: Desk, plan: Document) -> None:
    fields = form_of(client, plan, "job")
    fields |= {"camera.exposure_index": "1600", "tolerance.key.mired": "-3 to 8"}
    assert send(client, desk, plan, "job", **fields).status_code == 200
    after = plan_of(desk, plan)
    assert after["camera"]["exposure_index"] == 1600
    assert after["tolerance"]["key"]["mired"] == [-3, 8]
    spot = form_of(client, plan, "spot") | {"name": "hands", "gives.0": "-1", "gives.1": "40 lux"}
    assert send(client, desk, plan, "spot", **spot).status_code == 200
    assert plan_of(desk, plan)["spot"][-1]["light"] == [
        {"name": KEY, "stops": -1},
        {"name": "north window", "lux": 40},
    ]
    bad = send(client, desk, plan, "spot", **spot | {"name": "", "gives.0": "plenty"})
    assert bad.status_code == 422
    assert bad.text.count('aria-invalid="true"') == 2
    circuit = form_of(client, plan, "circuit") | {"name": "hall", "volts": "230", "breaker_a": "16"}
    assert send(client, desk, plan, "circuit", **circuit).status_code == 200
    assert plan_of(desk, plan)["circuit"][-1] == {"name": "hall", "volts": 230, "breaker_a": 16}


def test_balance_is_dragged_and_shared(client: TestClient, plan: Document) -> None:
    part = client.get(f"/plan/{plan.id}/answer", params={"mired": 200}, headers=PART)
    assert part.headers["hx-replace-url"] == f"/plan/{plan.id}?balance=5000K"
    assert "Balance at 5000 K" in part.text
    assert 'hx-swap-oob="true"' in part.text
    by_form = client.get(f"/plan/{plan.id}", params={"mired": 200}, follow_redirects=False)
    assert by_form.headers["location"] == f"/plan/{plan.id}?balance=5000K"
    assert "Balance at 5000 K" in client.get(by_form.headers["location"]).text


def test_a_balance_that_is_none_is_refused_as_a_page_says_it(
    client: TestClient, plan: Document
) -> None:
    """Without the dashes of the command line."""
    page = client.get(f"/plan/{plan.id}", params={"balance": "warmish"})
    assert page.status_code == 400
    assert '"warmish" is not a balance' in page.text.replace("&quot;", '"')
    assert "--" not in page.text.partition("<main>")[2]
