"""The kit page by forms alone: what it shows, what is added, counted, changed, removed."""

from __future__ import annotations

import html
import tomllib
from typing import Any

import pytest
from starlette.testclient import TestClient

from evencast.actions.card.facts import facts
from evencast.actions.card.numbers import lamp_of, numbers
from evencast.actions.card.rows import facts_of
from evencast.actions.editing.declared import colour_of, kelvin_of, say_kelvin_rounding
from evencast.actions.kit import load_kit
from evencast.filters import generic_names
from evencast.store.library.values import Document
from evencast.web.desk import Desk

CSV = b"wavelength_nm,transmittance\n" + b"".join(
    f"{nm},{0.4 + (nm - 380) / 1000:.3f}\n".encode() for nm in range(380, 785, 5)
)


def head(desk: Desk, kit: Document) -> int:
    return desk.library.read(kit).number


def entry(desk: Desk, kit: Document, name: str) -> dict[str, Any]:
    written = tomllib.loads(desk.library.read(kit).content.decode())
    return next((each for each in written["filter"] if each["name"] == name), {})


def send(
    client: TestClient, desk: Desk, kit: Document, path: str, based_on: Any = 0, **fields: Any
) -> Any:
    data = {"based_on": based_on or head(desk, kit), **fields}
    return client.post(f"/kit/{kit.id}/{path}", data=data)


def rows_of(client: TestClient, kit: Document) -> dict[str, dict[str, Any]]:
    twin = client.get(f"/kit/{kit.id}.json").json()
    return {row["name"]: row for group in twin["groups"] for row in group["filters"]}


# What it shows


def test_every_filter_is_told_by_the_numbers_of_the_reference(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    shown = rows_of(client, kit)
    loaded = load_kit(desk.open(kit.id).path)
    assert loaded.document is not None
    assert set(shown) == {each.name for each in loaded.filters}
    assert len(shown) == 24
    page = html.unescape(client.get(f"/kit/{kit.id}").text)
    for each, written in zip(loaded.filters, loaded.document.filter, strict=True):
        told = facts_of(numbers(lamp_of(each), each), written, (3200.0, 5600.0))
        words, row = dict(facts(told)), shown[each.name]
        assert (row["shift"], row["loss"], row["duv"]) == (
            words["Shift"],
            words["Loss"],
            words["Duv shift"],
        )
        assert row["answer"]["shift_mired"] == told.shift_mired
        assert row["shift"] in page
        assert row["told"] in page
        assert row["lamp"] in page
    assert shown["full CTB"]["shift"].startswith("134 mired cooler (")  # 10^6/5600 - 10^6/3200
    assert shown["worn half CTB"]["known_by"] == "measured"


def test_page_has_curves_and_no_patch_of_colour(client: TestClient, kit: Document) -> None:
    page = client.get(f"/kit/{kit.id}").text
    assert page.count('class="small-curve"') == 24
    drawn = page[page.index('id="filters"') :]
    assert 'fill="#' not in drawn
    assert "style=" not in page
    assert "onclick" not in page


def test_filter_page_looks_at_two_balances(client: TestClient, kit: Document) -> None:
    twin = client.get(f"/kit/{kit.id}/filter/half%20CTB.json").json()
    assert [each["balance"] for each in twin["pictures"]] == ["3200 K", "5600 K"]
    assert twin["pictures"][0]["bare_looks"] == "neutral"
    assert twin["chart"]["svg"].startswith("<svg")
    other = client.get(f"/kit/{kit.id}/filter/HALF ctb.json", params={"warm": "4300"}).json()
    assert [each["balance"] for each in other["pictures"]] == ["4300 K", "5600 K"]
    assert client.get(f"/kit/{kit.id}/filter/half%20CTB").status_code == 200
    for name, asked in (("none", {}), ("half CTB", {"warm": "hot"}), ("half CTB", {"cool": "9K"})):
        assert client.get(f"/kit/{kit.id}/filter/{name}", params=asked).status_code == 400


def test_kit_that_cannot_be_read_is_shown_with_its_problems_and_mended_as_text(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    good = desk.library.read(kit).content
    desk.library.save(kit, good.replace(b"generic = ", b"genric = ", 1), based_on=1, by="me")
    twin = client.get(f"/kit/{kit.id}.json").json()
    assert twin["broken"]
    assert any("genric" in each["message"] for each in twin["problems"])
    page = client.get(f"/kit/{kit.id}")
    assert page.status_code == 200
    assert f"/kit/{kit.id}/text" in page.text
    wrong = send(client, desk, kit, "text", text="format = 1\nname = ")
    assert wrong.status_code == 422
    assert "name = " in wrong.text
    assert head(desk, kit) == 2
    sent = good.decode().replace("\n", "\r\n")  # as a browser sends it
    assert send(client, desk, kit, "text", text=sent).status_code == 303
    assert desk.library.read(kit).content == good


# What is added


def test_declared_numbers_keep_how_finely_they_were_printed(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    fields = {"way": "kelvin", "from_k": "3200", "to_k": "5560", "stops": "1.50"}
    reply = send(client, desk, kit, "filters", name="mine", width="21 in", length="4 ft", **fields)
    assert reply.status_code == 303
    assert reply.headers["location"].endswith("/filter/mine")
    made = entry(desk, kit, "mine")
    assert made["kelvin"] == {"from_k": 3200, "to_k": 5560, "stops": 1.5, "rounding_stops": 0.005}
    assert made["stock"] == [{"form": "sheet", "width_in": 21, "length_ft": 4, "count": 1}]
    assert client.get(reply.headers["location"]).status_code == 200


def test_digits_say_their_rounding() -> None:
    fields = {"from_k": "3200", "to_k": "5550", "stops": "0.67"}
    told = say_kelvin_rounding(fields, where="x")
    assert told.startswith("5550 K stands for 5525 to 5575 K; 0.67 stop for 0.50 to 0.84 stop")
    assert "rounding_k" not in kelvin_of(fields, where="x")
    fine = colour_of({"illuminant": "A", "x": "0.310", "y": "0.33", "Y_percent": "31"}, where="x")
    assert fine["rounding_xy"] == 0.0005
    assert "rounding_Y_percent" not in fine
    whole = {"illuminant": "A", "x": "0.31", "y": "0.33", "Y_percent": "31.0"}
    assert "rounding_xy" not in colour_of(whole, where="x")


def test_rounding_is_told_while_typing(client: TestClient, kit: Document) -> None:
    path = f"/kit/{kit.id}/digits"
    told = client.get(path, params={"from_k": "3200", "to_k": "5600", "stops": "1.67"}).text
    assert "5550 to 5650 K" in told
    assert "thirds" in told
    wrong = client.get(path, params={"from_k": "3200", "to_k": "<b>", "stops": "1"}).text
    assert "is not a number" in wrong
    assert "<b>" not in wrong


def test_printed_colours_go_in_under_each_light(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    colours = {"a_x": "0.310", "a_y": "0.330", "a_percent": "31.0", "d65_x": "0.250"}
    short = send(client, desk, kit, "filters", way="xyy", name="mine", **colours)
    assert short.status_code == 400
    assert entry(desk, kit, "mine") == {}
    colours |= {"d65_y": "0.260", "d65_percent": "30"}
    assert send(client, desk, kit, "filters", way="xyy", name="mine", **colours).status_code == 303
    made = entry(desk, kit, "mine")["xyy"]
    assert [each["illuminant"] for each in made] == ["A", "D65"]
    assert made[0]["x"] == 0.31
    assert made[0]["rounding_xy"] == 0.0005


def test_generic_and_spectrum_and_file_go_in(client: TestClient, desk: Desk, kit: Document) -> None:
    name = next(each for each in generic_names() if each not in rows_of(client, kit))
    assert send(client, desk, kit, "filters", way="generic", generic=name).status_code == 303
    assert entry(desk, kit, name)["generic"] == name
    reply = client.post(
        f"/kit/{kit.id}/spectra",
        data={"based_on": head(desk, kit), "name": "faded"},
        files={"file": ("C:\\lab\\faded one.csv", CSV)},
    )
    assert reply.status_code == 303
    assert entry(desk, kit, "faded")["spectrum"] == "faded one.csv"
    assert desk.library.export(kit.bundle)["faded one.csv"] == CSV
    assert rows_of(client, kit)["faded"]["known_by"] == "measured"


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("a.csv", b"no spectrum"),
        ("a.csv", b"\xff\xfe\x00"),
        ("a.exe", CSV),
        ("", CSV),
        ("a.csv", b"wavelength_nm,transmittance\n400,7\n500,9\n"),
        ("a.spdx", b"<!DOCTYPE x [<!ENTITY a SYSTEM 'file:///etc/passwd'>]><x>&a;</x>"),
    ],
)
def test_what_is_no_spectrum_is_refused_and_not_kept(
    client: TestClient, desk: Desk, kit: Document, name: str, content: bytes
) -> None:
    reply = client.post(
        f"/kit/{kit.id}/spectra", data={"based_on": 1}, files={"file": (name, content)}
    )
    assert reply.status_code in (400, 422)
    assert "Traceback" not in reply.text
    assert len(desk.library.documents()) == 3
    assert head(desk, kit) == 1


@pytest.mark.parametrize(
    "fields",
    [
        {"way": "kelvin", "name": "x", "from_k": "warm", "to_k": "1", "stops": "1"},
        {"way": "kelvin", "name": "x", "from_k": "3200", "to_k": "-5", "stops": "1"},
        {"way": "kelvin", "name": "full CTB", "from_k": "3200", "to_k": "5600", "stops": "1"},
        {"way": "kelvin", "name": "", "from_k": "3200", "to_k": "5600", "stops": "1"},
        {"way": "kelvin", "name": "x", "from_k": "1e999", "to_k": "nan", "stops": "inf"},
        {"way": "xyy", "name": "x"},
        {"way": "xyy", "name": "x", "a_x": "0.9", "a_y": "0.9", "a_percent": "900"},
        {"way": "generic", "generic": "no such"},
        {"way": "spectrum", "name": "x", "spectrum": "../../../etc/passwd"},
        {"way": "other", "name": "x"},
        {"way": "generic", "generic": "ND 0.9", "role": "\x00", "width": "-1 m", "length": "0"},
    ],
)
def test_wrong_values_are_refused_in_words_and_change_nothing(
    client: TestClient, desk: Desk, kit: Document, fields: dict[str, str]
) -> None:
    reply = send(client, desk, kit, "filters", **fields)
    assert reply.status_code in (400, 422)
    assert 'class="failure"' in reply.text
    assert "Traceback" not in reply.text
    assert head(desk, kit) == 1


# What is counted


def test_steps_count_from_what_is_there_now(client: TestClient, desk: Desk, kit: Document) -> None:
    for _ in range(3):  # each from a page of the first revision
        step = {"filter": "half CTB", "step": 1}
        assert send(client, desk, kit, "stock", based_on=1, **step).status_code == 303
    assert entry(desk, kit, "half CTB")["stock"][0]["count"] == 5
    less = send(client, desk, kit, "stock", based_on=1, filter="half CTB", step=-6)
    assert less.status_code == 400
    assert "5 are at hand" in less.text
    note = desk.library.history(kit)[-1].note
    assert note.startswith("half CTB: 4 sheets of")
    assert note.endswith("-> 5")


def test_row_alone_comes_back_where_the_page_asks(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    data = {"based_on": 1, "filter": "half CTB", "step": 1}
    headers = {"hx-request": "true", "hx-target": "row-half-CTB"}
    reply = client.post(f"/kit/{kit.id}/stock", data=data, headers=headers)
    assert reply.status_code == 200
    assert reply.text.count("<article") == 1
    assert "<b>3</b>" in reply.text
    assert "half CTB" in reply.text
    assert "<html" not in reply.text


def test_sizes_are_added_and_taken_out(client: TestClient, desk: Desk, kit: Document) -> None:
    more = {"form": "offcut", "width": "30 cm", "length": "400", "count": "2", "id": "B3a"}
    assert send(client, desk, kit, "stock-add", filter="half CTB", **more).status_code == 303
    stock = entry(desk, kit, "half CTB")["stock"]
    assert stock[1] == {"form": "offcut", "width_cm": 30, "length_mm": 400, "count": 2, "id": "B3a"}
    assert send(client, desk, kit, "stock-remove", filter="half CTB", place=0).status_code == 303
    assert entry(desk, kit, "half CTB")["stock"] == stock[1:]
    wrong = send(client, desk, kit, "stock-add", filter="half CTB", width="wide", length="1")
    assert wrong.status_code == 400


# What is changed and removed


def test_filter_stays_while_a_plan_names_it(client: TestClient, desk: Desk, kit: Document) -> None:
    plan = desk.library.documents(kind="plan")[0]
    text = desk.library.read(plan).content
    assert b"light frost" in text
    refused = send(client, desk, kit, "filter-remove", filter="light frost")
    assert refused.status_code == 400
    assert "Hand bindery, late afternoon" in refused.text
    renamed = send(client, desk, kit, "filter-change", filter="light frost", name="frost")
    assert renamed.status_code == 400
    assert "Hand bindery, late afternoon" in renamed.text
    assert head(desk, kit) == 1
    assert send(client, desk, kit, "filter-remove", filter="half CTO").status_code == 303
    assert entry(desk, kit, "half CTO") == {}


def test_filter_is_changed_all_at_once_or_not_at_all(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    fields = {"filter": "market orange", "name": "orange", "kelvin.to_k": "abc", "note": "n"}
    wrong = send(client, desk, kit, "filter-change", **fields)
    assert wrong.status_code == 422
    assert head(desk, kit) == 1
    right = send(client, desk, kit, "filter-change", **(fields | {"kelvin.to_k": "4100"}))
    assert right.headers["location"] == f"/kit/{kit.id}/filter/orange"
    made = entry(desk, kit, "orange")
    assert (made["kelvin"]["to_k"], made["note"]) == (4100, "n")
    other = send(client, desk, kit, "filter-change", filter="orange", format="7", name="orange")
    assert other.status_code == 303  # a key that is not the filter's changes nothing
    assert tomllib.loads(desk.library.read(kit).content.decode())["format"] == 1


def test_two_people_change_one_thing_and_both_versions_are_shown(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    def note(words: str) -> Any:
        fields = {"filter": "half CTB", "note": words}
        return send(client, desk, kit, "filter-change", based_on=1, **fields)

    assert note("theirs").status_code == 303
    clash = note("mine")
    assert clash.status_code == 409
    assert "theirs" in clash.text
    assert "mine" in clash.text
    assert entry(desk, kit, "half CTB")["note"] == "theirs"
    text = desk.library.read(kit, 1).content.decode()
    mine = text.replace('generic = "half CTB"\n', 'generic = "half CTB"\nnote = "mine"\n')
    kept = send(client, desk, kit, "settle", based_on=1, seen=2, mine=mine, keep="mine")
    assert kept.status_code == 303
    assert entry(desk, kit, "half CTB")["note"] == "mine"


def test_two_people_change_two_things_and_both_hold(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    for name in ("half CTB", "full CTB"):
        fields = {"filter": name, "note": f"of {name}"}
        assert send(client, desk, kit, "filter-change", based_on=1, **fields).status_code == 303
    assert entry(desk, kit, "half CTB")["note"] == "of half CTB"
    assert entry(desk, kit, "full CTB")["note"] == "of full CTB"


def test_history_shows_and_brings_back(client: TestClient, desk: Desk, kit: Document) -> None:
    first = desk.library.read(kit).content
    send(client, desk, kit, "stock", filter="half CTB", step=1)
    twin = client.get(f"/kit/{kit.id}/history.json").json()
    assert [each["number"] for each in twin["revisions"]] == [2, 1]
    past = client.get(f"/kit/{kit.id}/history/1.json").json()
    assert past["text"] == first.decode()
    assert len(past["changes"]) == 1
    for path in ("history", "history/1", "text"):
        assert client.get(f"/kit/{kit.id}/{path}").status_code == 200
    assert send(client, desk, kit, "bring-back", revision=1).status_code == 303
    assert desk.library.read(kit).content == first
    assert send(client, desk, kit, "bring-back", revision=99).status_code == 400


def test_whoever_joined_to_look_sees_no_form_and_is_refused_in_words(
    looker: TestClient, desk: Desk, kit: Document
) -> None:
    assert 'method="post"' not in looker.get(f"/kit/{kit.id}/filter/half CTB").text
    assert "<button name=" not in looker.get(f"/kit/{kit.id}").text
    posts: dict[str, dict[str, Any]] = {
        "filters": {"way": "generic", "generic": "ND 0.9"},
        "stock": {"filter": "half CTB", "step": 1},
        "filter-remove": {"filter": "half CTO"},
        "filter-change": {"filter": "half CTB", "note": "x"},
        "text": {"text": "format = 1"},
    }
    for path, fields in posts.items():
        reply = send(looker, desk, kit, path, **fields)
        assert reply.status_code == 403
        assert "joined to look" in reply.text
    assert head(desk, kit) == 1
