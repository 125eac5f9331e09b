"""Two people at one plan, people who may only look, and forms that hold anything at all."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from evencast.store.library.values import Document
from evencast.web.asked import _person
from evencast.web.desk import Desk
from evencast.web.people import Person
from tests.unit.web.plan.test_plan import KEY, form_of, head, light_of, note, plan_of, send

ADA = Person("2", "Ada", "edit")


def edited_by_ada(desk: Desk, plan: Document, old: str, new: str) -> None:
    revision = desk.library.read(plan)
    text = revision.content.decode()
    assert text.count(old) == 1
    desk.save(plan, text.replace(old, new), based_on=revision.number, by=ADA, note="by Ada")


def test_different_things_are_brought_together(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    seen = head(desk, plan)
    fields = form_of(client, plan, "edit", light="bench lamp")
    edited_by_ada(desk, plan, "level = { lux = 30 }", "level = { lux = 33 }")
    done = send(client, desk, plan, "edit", based_on=seen, **fields | {"level.lux": "50"})
    assert done.status_code == 200
    assert "Put on top of what Ada saved" in done.text
    assert light_of(desk, plan, "bench lamp")["level"] == {"lux": 50}
    assert light_of(desk, plan, "stair tubes")["level"] == {"lux": 33}


@pytest.mark.parametrize(("keep", "lux"), [("mine", 50), ("theirs", 44)])
def test_clash_shows_both_and_a_person_decides(
    client: TestClient, desk: Desk, plan: Document, keep: str, lux: int
) -> None:
    seen = head(desk, plan)
    fields = form_of(client, plan, "edit", light="bench lamp")
    edited_by_ada(desk, plan, "level = { lux = 45 }", "level = { lux = 44 }")
    told = send(client, desk, plan, "edit", based_on=seen, **fields | {"level.lux": "50"})
    assert told.status_code == 409
    assert "45 lx -&gt; 44 lx" in told.text
    assert "45 lx -&gt; 50 lx" in told.text
    assert head(desk, plan) == seen + 1
    hidden = dict(re.findall(r'name="(based_on|seen)" value="(\d+)"', told.text))
    mine = re.search(r'<textarea name="mine" hidden>\n(.*?)</textarea>', told.text, re.S)
    assert mine is not None
    import html

    done = client.post(
        f"/plan/{plan.id}/settle",
        data={**hidden, "mine": html.unescape(mine[1]), "keep": keep},
        headers={"HX-Request": "true"},
    )
    assert done.status_code == 200, done.text
    assert light_of(desk, plan, "bench lamp")["level"] == {"lux": lux}
    history = [each.by for each in desk.library.history(plan)]
    assert "Ada" in history


def test_text_by_hand_merges_and_says_its_problems_at_lines(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    seen = head(desk, plan)
    text = desk.library.read(plan).content.decode()
    broken = text.replace("exposure_index = 800", "exposure_index = ")
    told = client.post(f"/plan/{plan.id}/text", data={"based_on": seen, "text": broken})
    assert told.status_code == 422
    assert "exposure_index = \n" in told.text.replace("\r", "")
    assert "line" in told.text
    assert head(desk, plan) == seen
    edited_by_ada(desk, plan, "level = { lux = 30 }", "level = { lux = 33 }")
    mine = text.replace("exposure_index = 800", "exposure_index = 640  # pushed")
    client.post(f"/plan/{plan.id}/text", data={"based_on": seen, "text": mine})
    after = desk.library.read(plan).content.decode()
    assert "exposure_index = 640  # pushed" in after
    assert "lux = 33" in after


def test_history_says_who_and_what_and_brings_back(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    send(client, desk, plan, "step", light=KEY, thirds=1)
    page = client.get(f"/plan/{plan.id}/history")
    assert "1400 lx -&gt;" in page.text
    assert "the laptop" in page.text
    past = client.get(f"/plan/{plan.id}/history/1.json").json()
    assert any("1400 lx" in each for each in past["changes"])
    assert client.get(f"/plan/{plan.id}/history/1").status_code == 200
    done = client.post(
        f"/plan/{plan.id}/bring-back",
        data={"based_on": head(desk, plan), "revision": 1},
        follow_redirects=False,
    )
    assert done.status_code == 303
    assert light_of(desk, plan, KEY)["level"]["lux"] == 1400
    assert note(desk, plan) == "brought back from revision 1"
    assert "brought back" in client.get(done.headers["location"]).text


def test_without_script_a_form_leads_back_and_says_what_was_done(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    data = {"based_on": head(desk, plan), "line": "tungsten 650 3 m"}
    done = client.post(f"/plan/{plan.id}/lights", data=data, follow_redirects=False)
    assert done.status_code == 303
    page = client.get(done.headers["location"]).text
    assert "tungsten 650 added" in page
    assert "Undo" in page
    assert "<!doctype html>" in page
    read = {"based_on": head(desk, plan), "light": KEY, "balance": "4300K", "cct_k": "3150"}
    done = client.post(f"/plan/{plan.id}/read", data=read, follow_redirects=False)
    assert "/trim?" in done.headers["location"]


def test_who_may_look_sees_no_form_and_is_refused_in_words(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    client.app.dependency_overrides[_person] = lambda: Person("3", "Bo", "view")  # type: ignore[attr-defined]
    try:
        page = client.get(f"/plan/{plan.id}").text
        assert 'method="post"' not in page
        assert "Remove" not in page
        assert KEY in page
        before = head(desk, plan)
        posts = [
            (path, item["post"])
            for path, item in client.get("/openapi.json").json()["paths"].items()
            if path.startswith("/plan/") and "hand-outs" not in path and "post" in item
        ]
        assert len(posts) > 15
        for path, _ in posts:
            data = {"based_on": "1", "light": KEY, "thirds": "1", "trim": "x", "name": "x"}
            data |= {"line": "tungsten 650 3 m", "way": "0", "text": "x", "mine": "x", "seen": "1"}
            data |= {"keep": "mine", "revision": "1", "spot": "x", "circuit": "x"}
            told = client.post(path.replace("{number}", str(plan.id)), data=data)
            assert 400 <= told.status_code < 500, path
        assert (
            "you joined to look"
            in client.post(
                f"/plan/{plan.id}/lights", data=data, headers={"HX-Request": "true"}
            ).text.casefold()
        )
        assert head(desk, plan) == before
    finally:
        client.app.dependency_overrides.clear()  # type: ignore[attr-defined]


def test_broken_plan_leads_to_its_text(client: TestClient, desk: Desk, plan: Document) -> None:
    revision = desk.library.read(plan)
    text = revision.content.decode().replace('kit = "kit.toml"', 'kit = "gone.toml"')
    desk.save(plan, text, based_on=revision.number, by=ADA, note="")
    page = client.get(f"/plan/{plan.id}")
    assert page.status_code == 422
    assert "Mend it as text" in page.text
    assert client.get(f"/plan/{plan.id}/text").status_code == 200


def test_dropped_files_are_tried_before_they_are_kept(
    client: TestClient, desk: Desk, plan: Document
) -> None:
    rows = "\n".join(f"{nm},{1 + (nm - 380) / 400:.3f}" for nm in range(380, 781, 5))
    good = ("lamp.csv", f"wavelength_nm,power\n{rows}\n".encode())

    def drop(name: str, content: bytes) -> Any:
        return client.post(
            f"/plan/{plan.id}/file",
            data={"based_on": head(desk, plan), "light": "yard lamp"},
            files={"content": (name, content)},
            headers={"HX-Request": "true"},
        )

    assert drop(*good).status_code == 200
    assert light_of(desk, plan, "yard lamp")["spectrum"] == "lamp.csv"
    assert "builtin" not in light_of(desk, plan, "yard lamp")
    before = [each.name for each in desk.library.documents()]
    for name, content in [
        ("lamp2.csv", b"not,a\nspectrum,at all\n"),
        ("../../evil.csv", b"x"),
        ("script.html", b"<script>"),
        ("", good[1]),
        ("lamp.ies", b"IESNA:LM-63-2002\nTILT=NONE\n"),
    ]:
        told = drop(name, content)
        assert 400 <= told.status_code < 500, name
    assert [each.name for each in desk.library.documents()] == before
    again = drop("lamp.csv", good[1].replace(b"1.000", b"1.100"))
    assert again.status_code == 200
    assert light_of(desk, plan, "yard lamp")["spectrum"] == "lamp-2.csv"


ANY_TEXT = st.text(max_size=40) | st.sampled_from(
    ["", "0", "-1", "1e400", "nan", "½", "\x00", '"""', "]]", "9" * 400, "‮abc", "{}", "a = 1"]
)


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(
    path=st.sampled_from(
        [
            "lights",
            "edit",
            "read",
            "rig",
            "step",
            "job",
            "spot",
            "circuit",
            "setups",
            "balance",
            "setups/rename",
            "trim",
            "pick",
            "duplicate",
            "settle",
            "text",
            "bring-back",
            "file",
        ]
    ),
    names=st.lists(
        st.sampled_from(
            [
                "line",
                "name",
                "role",
                "cct_k",
                "duv",
                "level.lux",
                "aim.mired",
                "aperture.0.width",
                "filters",
                "dim_stops",
                "off",
                "gives.0",
                "volts",
                "camera.exposure_index",
                "kind",
                "tolerance.key.mired",
                "setup",
                "balance",
                "thirds",
                "way",
                "moves",
                "count",
                "time",
                "camera.balance.at_k",
                "size",
                "distance",
                "text",
                "mine",
                "keep",
                "seen",
                "trim",
            ]
        ),
        max_size=6,
        unique=True,
    ),
    data=st.data(),
)
def test_no_form_value_is_too_much(
    client: TestClient, desk: Desk, plan: Document, path: str, names: list[str], data: Any
) -> None:
    fields = {"light": KEY, **{name: data.draw(ANY_TEXT) for name in names}}
    before = desk.library.read(plan)
    told = send(client, desk, plan, path, **fields)
    assert told.status_code < 500
    if desk.library.read(plan).number != before.number:
        assert client.get(f"/plan/{plan.id}.json").status_code == 200
        desk.library.bring_back(plan, 1, based_on=head(desk, plan), by="me")
    assert plan_of(desk, plan)["format"] == 1
