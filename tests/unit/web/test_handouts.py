"""Hand-outs of a plan and the reference of a kit: made in the worker, shown, kept."""

from __future__ import annotations

import io
import time
import zipfile
from pathlib import Path
from typing import Any, cast
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from evencast.actions.handouts.handout import KINDS, handout
from evencast.actions.handouts.job import Wishes
from evencast.errors import EvencastError
from evencast.store.library.values import Document
from evencast.store.papers import MOST_KEPT, Papers, draw, key_of, put
from evencast.web.desk import Desk
from evencast.web.pages.handouts import TITLES
from evencast.web.replies import file_name, file_reply

SMALL = b"""format = 1
name = "One lamp: at night?"
kit = "kit.toml"
mains_hz = 50
camera = { balance = { fixed_k = 4300 } }

[[light]]
name = "key"
role = "key"
builtin = "tungsten 3200 K"
aperture = [{ width_mm = 170, height_mm = 170 }]
"""
WISHES = {"date": "2031-05-04", "author": "Ada Moss"}


@pytest.fixture
def small(desk: Desk) -> Document:
    """A plan that is solved at once."""
    return desk.library.add(desk.library.bundles()[0], "small.toml", SMALL, by="me")


def waited(client: TestClient, path: str, asked: dict[str, Any]) -> dict[str, Any]:
    """What is made, once nothing is being made any more."""
    for _ in range(600):
        made = client.get(f"{path}.json", params=asked).json()["made"]
        if made["making"] is None:
            assert isinstance(made, dict)
            return made
        time.sleep(0.1)
    raise AssertionError("it is never done")


def test_every_hand_out_of_the_command_has_a_title() -> None:
    assert tuple(TITLES) == KINDS


def test_cards_are_made_shown_and_kept_as_the_command_writes_them(
    client: TestClient, desk: Desk, small: Document, tmp_path: Path
) -> None:
    path, asked = f"/plan/{small.id}/hand-outs", {**WISHES, "only": ["cards", "shopping"]}
    reply = client.post(path, data=asked)
    assert reply.status_code == 303
    assert reply.headers["location"].startswith(f"{path}?date=")
    made = waited(client, path, asked)
    assert made["failed"] is None
    files = {each["name"]: each for found in made["sets"] for each in found["files"]}
    assert list(files) == ["lamp-cards.pdf", "shopping.pdf", "shopping.csv"]
    wishes = Wishes(**cast(Any, WISHES))
    opened = desk.open(small.id)
    handout(
        opened.path,
        only=["cards", "shopping"],
        to=tmp_path / "out",
        setup=None,
        wishes=wishes,
        replace=False,
    )
    for name, each in files.items():
        assert client.get(each["path"]).content == (tmp_path / "out" / name).read_bytes()
    pdf = client.get(files["lamp-cards.pdf"]["path"])
    assert pdf.headers["content-type"] == "application/pdf"
    inline = "inline; filename=\"One lamp at night, lamp-cards.pdf\"; filename*=UTF-8''"
    assert pdf.headers["content-disposition"].startswith(inline)
    assert pdf.headers["content-security-policy"].startswith("default-src 'none'")
    kept = client.get(files["lamp-cards.pdf"]["path"], params={"keep": True})
    assert kept.headers["content-disposition"].startswith("attachment;")
    page = files["lamp-cards.pdf"]["pages"]
    assert len(page) == 1
    picture = client.get(page[0])
    assert picture.content.startswith(b"\x89PNG")
    assert "immutable" in picture.headers["cache-control"]
    table = client.get(files["shopping.csv"]["path"])
    assert table.headers["content-disposition"].startswith("attachment;")
    assert "sandbox" in table.headers["content-security-policy"]
    packed = zipfile.ZipFile(io.BytesIO(client.get(made["all_in_one"]).content))
    assert sorted(packed.namelist()) == sorted(files)
    shown = client.get(path, params=asked).text
    assert page[0] in shown
    assert "Open to print" in shown


def test_second_look_makes_nothing_and_a_change_makes_anew(
    client: TestClient, desk: Desk, small: Document
) -> None:
    path, asked = f"/plan/{small.id}/hand-outs", {**WISHES, "only": ["labels"]}
    client.post(path, data=asked)
    first = waited(client, path, asked)
    jobs = len(desk.jobs.every())
    client.post(path, data=asked)
    assert len(desk.jobs.every()) == jobs
    assert client.get(f"{path}.json", params=asked).json()["made"] == first
    other = client.get(f"{path}.json", params={**asked, "author": "Bo"}).json()["made"]
    assert other["sets"] == []
    assert other["key"] != first["key"]
    desk.library.save(small, SMALL.replace(b"key", b"big key"), based_on=1, by="me")
    after = client.get(f"{path}.json", params=asked).json()["made"]
    assert after["sets"] == []
    assert after["key"] != first["key"]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"date": "4 May", "only": "cards"}, "is not a date"),
        ({"date": "2031-05-04"}, "No hand-out is chosen"),
        ({"date": "2031-05-04", "only": "posters"}, "there is no hand-out"),
        ({"date": "2031-05-04", "only": "cards", "paper": "a0"}, "is no paper"),
        ({"date": "2031-05-04", "only": "cards", "address": "javascript:alert(1)"}, "begin with"),
        ({"date": "2031-05-04", "only": "labels", "labels": "x"}, "is not a size of a label"),
        ({"date": "2031-05-04", "only": "labels", "label_start": "900"}, "no label 900"),
        ({"date": "2031-05-04", "only": "cards", "label_start": "one"}, "integer"),
    ],
)
def test_wishes_that_cannot_be_met_are_refused_in_words(
    client: TestClient, desk: Desk, small: Document, asked: dict[str, str], said: str
) -> None:
    reply = client.post(f"/plan/{small.id}/hand-outs", data=asked)
    assert reply.status_code in (400, 422)
    assert said.casefold() in reply.text.casefold()
    assert desk.jobs.every() == []


def test_plan_that_cannot_be_solved_says_why(client: TestClient, desk: Desk) -> None:
    bundle = desk.library.bundles()[0]
    text = SMALL.replace(b'"kit.toml"', b'"../../../etc/passwd"')
    broken = desk.library.add(bundle, "broken.toml", text, by="me")
    path, asked = f"/plan/{broken.id}/hand-outs", {**WISHES, "only": ["cards"]}
    client.post(path, data=asked)
    made = waited(client, path, asked)
    assert made["sets"] == []
    assert "outside the bundle" in str(made["failed"]["problems"])
    assert "outside the bundle" in client.get(path, params=asked).text


def test_making_is_stopped(client: TestClient, desk: Desk, plan: Document) -> None:
    path, asked = f"/plan/{plan.id}/hand-outs", {**WISHES, "only": ["pocket"]}
    client.post(path, data=asked)
    shown = client.get(path, params=asked).text
    assert "data-job=" in shown
    assert f"{path}/stop" in shown
    assert client.post(f"{path}/stop", data=asked).status_code == 303
    assert desk.jobs.every()[0].state == "cancelled"
    assert waited(client, path, asked)["sets"] == []


def test_whoever_joined_to_look_may_print(looker: TestClient, small: Document) -> None:
    path, asked = f"/plan/{small.id}/hand-outs", {**WISHES, "only": ["labels"]}
    assert looker.post(path, data=asked).status_code == 303
    assert [each["kind"] for each in waited(looker, path, asked)["sets"]] == ["labels"]


def test_papers_of_others_and_places_elsewhere_are_not_there(
    client: TestClient, small: Document
) -> None:
    root = f"/plan/{small.id}/hand-outs"
    for key in ("0" * 24, "x", "..", "%2e%2e"):
        for rest in ("cards/lamp-cards.pdf", "cards/made.json", "..%2f..%2f/made.json"):
            reply = client.get(f"{root}/{key}/{rest}")
            assert reply.status_code in (400, 404)
            assert "Traceback" not in reply.text
    assert client.get(f"{root}/{'0' * 24}/cards/lamp-cards.pdf/1.png").status_code == 400


def test_reference_of_a_kit_is_made_by_the_worker(client: TestClient, desk: Desk) -> None:
    bundle = desk.library.bundles()[0]
    text = b'format = 1\nname = "two"\n\n[[filter]]\nname = "half CTB"\nrole = "correction"\n'
    text += b'generic = "half CTB"\n'
    kit = desk.library.add(bundle, "two.toml", text, by="me")
    path, asked = f"/kit/{kit.id}/reference", {**WISHES, "only": ["reference"]}
    assert client.post(path, data=asked).status_code == 303
    made = waited(client, path, asked)
    assert [each["name"] for each in made["sets"][0]["files"]] == ["reference.pdf", "reference.csv"]
    assert len(made["sets"][0]["files"][0]["pages"]) >= 1
    assert client.get(path, params=asked).status_code == 200
    spoiled: list[dict[str, Any]] = [
        {"light": "/etc/passwd.csv"},
        {"warm": "hot"},
        {"camera": "x"},
        {"only": []},
    ]
    for wrong in spoiled:
        assert client.post(path, data={**asked, **wrong}).status_code == 400


def test_names_of_files_are_safe_on_every_device() -> None:
    assert file_name('a/b\\c: "d" <e>\n', "cards.pdf") == "a b c d e, cards.pdf"
    assert file_name("...", "x.pdf") == "x.pdf"
    assert len(file_name("x" * 500, "cards.pdf")) <= 131
    reply = file_reply(b"x", 'ü"夜\r\nx.html', inline=True)
    how = reply.headers["content-disposition"]
    assert how.startswith("attachment;")
    assert how.isascii()
    assert "\n" not in how
    assert quote("夜") in how
    assert "sandbox" in reply.headers["content-security-policy"]


def test_papers_are_there_whole_and_the_longest_unused_go() -> None:
    papers = Papers()
    keys = [key_of("a", number) for number in range(MOST_KEPT + 3)]
    for key in keys:
        assert papers.made(key, "cards") is None
        folder = papers.folder(key)
        put(folder, "cards", {"a.pdf": b"one", "a.csv": b"two"})
    found = papers.made(keys[-1], "cards")
    assert found is not None
    assert [each.pages for each in found.files] == [0, 0]
    draw(papers.folder(keys[-1]), "cards", {"a.pdf": [b"p1", b"p2"]})
    assert papers.page(keys[-1], "cards", "a.pdf", 2) == b"p2"
    assert papers.content(keys[-1], "cards", "a.csv") == b"two"
    assert sum(papers.made(key, "cards") is not None for key in keys) <= MOST_KEPT
    for name, number in (("a.pdf", 0), ("a.pdf", 3), ("b.pdf", 1), ("../a.pdf", 1)):
        with pytest.raises(EvencastError):
            papers.page(keys[-1], "cards", name, number)
    with pytest.raises(EvencastError):
        papers.folder("../x")
    papers.close()
    assert papers.made(keys[-1], "cards") is None
