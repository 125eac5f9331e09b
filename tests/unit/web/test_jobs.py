"""The first page and bundles, by forms alone, as without script."""

from __future__ import annotations

import tomllib

import pytest
from starlette.testclient import TestClient

from evencast.actions.beginning import file_for, folder_for, new_kit, new_plan
from evencast.actions.editing.document import KIT, PLAN
from evencast.filters import generic_names
from evencast.store.library.names import bundle_name, document_name
from evencast.store.library.values import Document
from evencast.tables import demo_documents
from evencast.web.desk import Desk

HOSTILE = [
    "con",
    "../../etc/x",
    'a "b" <c> & \\ d',
    "夜 بالعربية 🎬",
    "x" * 120,
    "..",
    "<script>alert(1)</script>",
    "aux.",
]


@pytest.mark.parametrize("name", HOSTILE)
def test_any_name_begins_a_plan_whose_files_every_system_holds(
    first_client: TestClient, empty: Desk, name: str
) -> None:
    reply = first_client.post("/plans", data={"name": name})
    assert reply.status_code == 303
    made = empty.library.documents(kind="plan")[0]
    assert reply.headers["location"] == f"/plan/{made.id}"
    assert tomllib.loads(empty.library.read(made).content.decode())["name"] == name
    assert document_name(made.name) == made.name
    assert bundle_name(made.bundle.name) == made.bundle.name
    page = first_client.get("/").text
    assert "<script>alert" not in page


@pytest.mark.parametrize("name", ["", "   ", "a\x00b", "x" * 121, "a\x1bb"])
def test_no_plan_is_begun_without_a_name_that_can_be_one(
    first_client: TestClient, empty: Desk, name: str
) -> None:
    reply = first_client.post("/plans", data={"name": name})
    assert reply.status_code == 400
    assert "Not done" in reply.text
    assert empty.library.bundles() == []


def test_new_plan_has_a_kit_of_every_generic_filter(first_client: TestClient, empty: Desk) -> None:
    first_client.post("/plans", data={"name": "kitchen, day", "mains": "60"})
    kit = empty.library.documents(kind="kit")[0]
    plan = empty.library.documents(kind="plan")[0]
    assert list(kit.holds) == generic_names()
    written = tomllib.loads(empty.library.read(plan).content.decode())
    assert written["kit"] == kit.name
    assert written["mains_hz"] == 60
    assert first_client.get(f"/plan/{plan.id}").status_code == 200


def test_a_plan_without_a_light_says_what_to_do_in_the_words_of_the_page(
    first_client: TestClient, empty: Desk
) -> None:
    made = first_client.post("/plans", data={"name": "kitchen"})
    page = first_client.get(made.headers["location"]).text
    assert "No light yet. Add the first below, as you would say it." in page
    assert "[[light]]" not in page
    assert first_client.get(f"{made.headers['location']}.json").json()["problems"] == []


def test_new_plan_goes_beside_the_kit_that_is_chosen(
    client: TestClient, desk: Desk, kit: Document
) -> None:
    client.post("/plans", data={"name": "morning", "kit": kit.id})
    client.post("/plans", data={"name": "Morning", "kit": kit.id})
    names = [each.name for each in desk.library.documents(kit.bundle, "plan")]
    assert names == ["morning-2.toml", "morning.toml", "plan.toml"]
    assert client.post("/plans", data={"name": "x", "kit": 9999}).status_code == 400
    assert client.post("/plans", data={"name": "x", "mains": 55}).status_code == 400


def test_what_is_begun_has_no_error() -> None:
    plan = new_plan('the "van" \\', kit="kit.toml", mains_hz=50)
    assert not [each for each in PLAN.problems(plan) if each.severity == "error"]
    assert KIT.problems(new_kit("all", generics=True)) == []
    assert not [e for e in KIT.problems(new_kit("none", generics=False)) if e.severity == "error"]


def test_file_and_folder_names_are_never_taken_or_refused() -> None:
    assert file_for("Night", ["NIGHT.toml"], usual="plan") == "night-2.toml"
    assert file_for("🎬", [], usual="plan") == "plan.toml"
    assert file_for("nul", [], usual="plan") == "plan-nul.toml"
    assert folder_for("a/b: c?", usual="plans") == "a b c"
    assert folder_for("...", usual="plans") == "plans"
    assert len(folder_for("x" * 500, usual="plans")) <= 56


def test_demo_is_there_in_one_tap_and_to_the_byte(first_client: TestClient, empty: Desk) -> None:
    first_client.post("/demo")
    reply = first_client.post("/demo")
    assert reply.status_code == 303
    assert [each.name for each in empty.library.bundles()] == ["demo", "demo 2"]
    for bundle in empty.library.bundles():
        came = {name: text.encode() for name, text in demo_documents().items()}
        assert empty.library.export(bundle) == came


def test_page_and_twin_name_every_plan_kit_and_bundle(client: TestClient) -> None:
    twin = client.get("/jobs.json").json()
    page = client.get("/").text
    assert [each["title"] for each in twin["plans"]] == ["Hand bindery, late afternoon"]
    assert [each["title"] for each in twin["kits"]] == ["the van"]
    assert twin["bundles"][0]["holds"] == "1 plan, 1 kit and 1 spectrum"
    assert all(each["title"] in page for each in (*twin["plans"], *twin["kits"]))
    assert 'href="/bundle/1.zip"' in page


def test_name_changes_and_every_other_byte_stays(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    before = desk.library.read(plan)
    path = f"/document/{plan.id}/name"
    assert client.post(path, data={"based_on": 1, "name": "At dusk"}).status_code == 303
    after = desk.library.read(plan)
    old = b'name = "Hand bindery, late afternoon"'
    assert after.content == before.content.replace(old, b'name = "At dusk"')
    late = client.post(path, data={"based_on": 1, "name": "At noon"})
    assert late.status_code == 400
    assert "no longer the newest" in late.text
    assert desk.library.read(plan).number == after.number


def test_copy_stands_beside_the_first_with_the_same_kit(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    reply = client.post(f"/document/{plan.id}/copy", data={"name": "Second day"})
    made = desk.library.document(plan.bundle, "second-day.toml")
    assert reply.headers["location"] == f"/plan/{made.id}"
    assert made.holds == plan.holds
    assert made.title == "Second day"
    assert desk.library.read(plan).number == 1


def test_removed_comes_back_to_the_byte(client: TestClient, desk: Desk, plan: Document) -> None:
    before = desk.library.read(plan).content
    assert client.post(f"/document/{plan.id}/remove", data={"based_on": 1}).status_code == 303
    assert desk.library.documents(kind="plan") == []
    twin = client.get(f"/bundle/{plan.bundle.id}.json").json()
    assert [each["name"] for each in twin["removed"]] == ["plan.toml"]
    data = {"document": plan.id}
    path = f"/bundle/{plan.bundle.id}/bring-back"
    assert client.post(path, data=data).status_code == 303
    assert desk.library.read(desk.document(plan.id)).content == before
    assert client.post(path, data=data).status_code == 400


def test_kit_stays_while_a_plan_needs_it(
    client: TestClient, desk: Desk, plan: Document, kit: Document
) -> None:
    refused = client.post(f"/document/{kit.id}/remove", data={"based_on": 1})
    assert refused.status_code == 400
    assert "Hand bindery, late afternoon needs this" in refused.text
    client.post(f"/document/{plan.id}/remove", data={"based_on": 1})
    assert client.post(f"/document/{kit.id}/remove", data={"based_on": 1}).status_code == 303


def test_whoever_joined_to_look_sees_no_form_and_is_refused_in_words(
    looker: TestClient, desk: Desk, plan: Document
) -> None:
    before = desk.library.last_change()
    assert "<form" not in looker.get("/").text
    assert "<form" not in looker.get(f"/bundle/{plan.bundle.id}").text
    for path, data in (
        ("/plans", {"name": "x"}),
        ("/kits", {"name": "x"}),
        ("/demo", {}),
        (f"/document/{plan.id}/name", {"name": "x", "based_on": "1"}),
        (f"/document/{plan.id}/remove", {"based_on": "1"}),
    ):
        reply = looker.post(path, data=data)
        assert reply.status_code == 403
        assert "joined to look, not to change" in reply.text
    assert desk.library.last_change() == before


def test_what_is_not_there_is_said(client: TestClient, kit: Document) -> None:
    for path in ("/bundle/99", "/bundle/99.zip", "/document/99/file", "/bundle/99.json"):
        assert client.get(path).status_code == 400
    assert client.get(f"/document/{kit.id}/file?revision=7").status_code == 400
    assert client.get(f"/plan/{kit.id}").status_code == 400
