from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from evencast import tables
from tests.unit.cli.calling import ANSWERED, BAD_CALL, KIT, run

ROWS_OF = {"lights": 8, "colours": 8, "ladder": 9, "residuals": 8}
"""Seven lights and a view; of levels also key and fill together."""


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.chdir(tmp_path)
    for name, text in tables.demo_documents().items():
        Path(name).write_text(text, "utf-8")
    return "plan.toml"


def test_a_solved_plan_is_told_as_a_table_and_as_one_object(plan: str) -> None:
    """The lights without being asked for; the same rows in JSON; cautions come with both."""
    told = run("look", "plan", plan)
    answer = run("look", "plan", plan, "--json").answer
    assert told.code == ANSWERED
    assert max(len(line) for line in told.out.splitlines()) <= 80
    assert answer["drawn"] == "lights"
    assert [row[1] for row in answer["rows"]][:2] == ["key Fresnel", "north window"]
    assert [row[-1] for row in answer["rows"]] == ["yes"] * 6 + ["no"]
    assert answer["written_to"] is None
    assert any("Flicker" in each for each in answer["cautions"])
    assert "Mind:" in told.out


@pytest.mark.parametrize(("chart", "rows"), list(ROWS_OF.items()))
def test_every_chart_of_what_hangs(plan: str, chart: str, rows: int) -> None:
    call = ("look", "plan", plan, "--hangs", "--balance", "4300K", "--chart", chart)
    told, answer = run(*call), run(*call, "--json").answer
    assert max(len(line) for line in told.out.splitlines()) <= 80
    assert answer["drawn"] == chart
    assert len(answer["rows"]) == rows
    assert all(len(row) == len(answer["headers"]) for row in answer["rows"])


def test_what_hangs_is_drawn_without_solving(plan: str) -> None:
    """At a balance that the person names; nothing hangs in the plan itself."""
    answer = run("look", "plan", plan, "--hangs", "--balance", "5600K", "--json").answer
    assert answer["chart"]["balance_k"] == pytest.approx(5600.0, abs=0.5)
    key = answer["chart"]["lights"][0]
    assert (key["name"], key["changed"]) == ("key Fresnel", False)
    assert key["bare"]["mired"] == pytest.approx(1e6 / 3200 - 1e6 / 5600, abs=0.1)


def test_another_balance_is_for_what_hangs(plan: str) -> None:
    ran = run("look", "plan", plan, "--balance", "5600K")
    assert ran.code == BAD_CALL
    assert "--hangs" in ran.err


@pytest.mark.parametrize("ending", ["svg", "png", "SVG"])
@pytest.mark.parametrize("ground", ["paper", "screen"])
def test_drawn_to_a_new_file_and_never_over_one(
    ending: str, ground: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    name = f"tube.{ending}"
    call = ("look", "spectra", "FL2", "half CTO", "--ground", ground, "--to", name)
    ran = run(*call)
    assert ran.code == ANSWERED
    assert ran.out.splitlines()[-1] == f"Written to {name}"
    content = Path(name).read_bytes()
    if ending == "png":
        assert content.startswith(b"\x89PNG\r\n\x1a\n")
    else:
        back = next(iter(ET.fromstring(content).iter("{http://www.w3.org/2000/svg}rect")))
        assert back.get("fill") == {"paper": "#ffffff", "screen": "#202020"}[ground]
    again = run(*call)
    assert again.code == BAD_CALL
    assert "is there already" in again.err
    assert Path(name).read_bytes() == content


@pytest.mark.parametrize("name", ["tube.pdf", "tube"])
def test_another_ending_is_refused_before_any_work(name: str) -> None:
    ran = run("look", "plan", "no such plan.toml", "--to", name)
    assert ran.code == BAD_CALL
    assert "cannot be written" in ran.err
    assert ".svg or .png" in ran.err


def test_spectra_of_power_and_of_transmittance() -> None:
    power = run("look", "spectra", "FL2", "half CTO", "--json").answer
    assert power["headers"] == ["nm", "cool white tube FL2", "through half CTO"]
    assert power["chart"]["quantity"] == "power"
    assert any(each.startswith("Tube:") for each in power["cautions"])
    sheets = run("look", "spectra", "FL2", "half CTO", "--of", "transmittance", "--json").answer
    assert max(sheets["chart"]["curves"][0]["values"]) < 1.0
    none = run("look", "spectra", "FL2", "--of", "transmittance")
    assert none.code == BAD_CALL
    assert "no sheet" in none.err


def test_a_kit_in_front_of_a_light_or_of_each_sheets_own_white(tmp_path: Path) -> None:
    kit = tmp_path / "kit.toml"
    kit.write_text(KIT, "utf-8")
    own = run("look", "kit", str(kit), "--json").answer
    on_tubes = run("look", "kit", str(kit), "--light", "FL2", "--json").answer
    assert "named for" in own["chart"]["on"]
    assert on_tubes["chart"]["on"] == "In front of cool white tube FL2."
    assert own["cautions"] == []
    assert on_tubes["cautions"] != []
    assert len(own["rows"]) == len(on_tubes["rows"]) == len(own["chart"]["sheets"])
    told = run("look", "kit", str(kit)).out
    assert max(len(line) for line in told.splitlines()) <= 80


def test_lights_in_uv_at_a_tinted_balance() -> None:
    answer = run(
        "look", "colours", "FL2", "5400K+0.0065", "--balance", "4300K 4 toward magenta", "--json"
    ).answer
    assert [row[1] for row in answer["rows"]] == ["cool white tube FL2", "5400K+0.0065"]
    assert answer["chart"]["balance_told"] == "4300 K, 4 toward magenta"
    assert any("step of tint" in each for each in answer["notes"])
    assert any("only a reading is known" in each for each in answer["notes"])


def test_a_light_that_is_not_known_is_said(tmp_path: Path) -> None:
    ran = run("look", "colours", "no such lamp")
    assert ran.code == BAD_CALL
    assert "Traceback" not in ran.err
