"""What is packed of small kits, and what is told of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.unit.cli.calling import ANSWERED, ERRORS_IN_DOCUMENT, FROST_ONLY, run

HEAD = 'format = 1\nname = "bag"\n'


def sheet(name: str, *, count: int | None = None) -> str:
    stock = "" if count is None else f"width_mm = 500, length_mm = 600, count = {count} }}]\n"
    stock = stock and "stock = [{ form = 'sheet', " + stock
    return f'[[filter]]\nname = "{name}"\nrole = "correction"\ngeneric = "{name}"\n{stock}'


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def packed(kit: str, *arguments: str) -> dict[str, Any]:
    Path("bag.toml").write_text(HEAD + kit, "utf-8")
    ran = run("pack", "bag.toml", *arguments, "--json")
    assert ran.code == ANSWERED, ran.out
    return ran.answer


def copies(answer: dict[str, Any]) -> dict[str, int]:
    return {each["filter"]: each["copies"] for each in answer["sheets"]}


def test_a_full_alone_for_tungsten_to_daylight() -> None:
    """Quarter and half stay at home: one full does it, and brighter than several."""
    kit = sheet("quarter CTB") + sheet("half CTB") + sheet("full CTB")
    answer = packed(kit, "tungsten", "--balance", "5600K")
    assert copies(answer) == {"full CTB": 1}
    assert answer["left_out"] == ["quarter CTB", "half CTB"]
    assert answer["assumed_lights"] is False
    (served,) = answer["served"]
    assert (served["filters"], served["light"]) == (["full CTB"], "tungsten 3200 K")
    assert any(each.startswith("Heat") for each in served["cautions"])
    (full,) = answer["sheets"]
    pair = {"light": "tungsten 3200 K", "balance": "5600K"}
    assert full["lost"] == full["lost_with_one_fewer"] == [pair]
    assert full["reason"] == "needed for tungsten 3200 K at 5600K"
    assert answer["proven"] == {"sheets": 1, "bound": 1, "gap": 0.0, "layers": 3}


def test_two_alike_are_two_copies_and_short_stock_is_told() -> None:
    """With halves alone tungsten takes two of them, each light after the other."""
    answer = packed(sheet("half CTB", count=1), "tungsten", "--balance", "5600K")
    assert copies(answer) == {"half CTB": 2}
    (half,) = answer["sheets"]
    assert half["at_hand"] == 1
    assert half["reason"] == (
        "2 at a time needed for tungsten 3200 K at 5600K; the kit counts 1: cut it"
    )


def test_what_is_used_up_is_not_packed() -> None:
    """A filter without stock is at hand for all anybody knows; one of which none is left is not."""
    kit = sheet("full CTB", count=0) + sheet("half CTB")
    answer = packed(kit, "tungsten", "--balance", "5600K")
    assert copies(answer) == {"half CTB": 2}
    assert "The kit counts no piece of full CTB: not packed." in answer["notes"]
    assert "full CTB" not in answer["left_out"]


def test_lights_that_are_near_enough_need_nothing() -> None:
    answer = packed(sheet("half CTB"), "tungsten", "--balance", "3200K")
    assert answer["sheets"] == answer["unreached"] == []
    assert answer["served"][0]["filters"] == []
    said = run("pack", "bag.toml", "tungsten", "--balance", "3200K").out
    assert said.startswith("Pack nothing to correct with")


def test_what_nothing_reaches_is_named_with_other_ways() -> None:
    """Sodium; and a bulb that a sheet not in the kit would help, beside one that is."""
    answer = packed(
        sheet("full CTB"), "sodium", "LED-B1", "--balance", "3200K", "--balance", "4300K"
    )
    by = {(each["light"], each["balance"]): each for each in answer["unreached"]}
    sodium = by["high-pressure sodium HP1", "4300K"]
    assert sodium["borrow"] == []
    assert "which no sheet puts back" in sodium["instead"]
    bulb = by["LED phosphor 2700 K B1", "4300K"]
    assert (bulb["borrow"], bulb["beside"]) == (["eighth plus green"], ["full CTB"])
    assert bulb["nearest"] == ["full CTB"]
    assert bulb["residual_duv"] < -0.003
    assert "swap the bulb" in bulb["instead"]
    with_it = sheet("full CTB") + sheet("eighth plus green")
    assert copies(packed(with_it, "LED-B1", "--balance", "4300K")) == {
        "full CTB": 1,
        "eighth plus green": 1,
    }


def test_a_balance_at_which_it_is_reached_is_named() -> None:
    asked = ("tungsten", "--balance", "3200K", "--balance", "5000K")
    answer = packed(sheet("half CTB"), *asked)
    (far,) = answer["unreached"]
    assert (far["balance"], far["reached_at"]) == ("5000K", ["3200K"])
    said = " ".join(
        run("pack", "bag.toml", "tungsten", "--balance", "3200K", "--balance", "5000K").out.split()
    )
    assert "Or balance at 3200K, where it is reached; use another lamp" in said


def test_a_light_or_a_balance_named_twice_counts_once() -> None:
    answer = packed(
        sheet("full CTB"), "tungsten", "halogen", "--balance", "5600K", "--balance", "5600k"
    )
    assert answer["lights"] == ["tungsten 3200 K"]
    assert len(answer["balances"]) == len(answer["served"]) == 1


def test_a_kit_without_a_sheet_to_correct_with() -> None:
    """Frost never corrects: what is near enough bare is served, nothing is packed."""
    Path("bag.toml").write_text(FROST_ONLY, "utf-8")
    ran = run("pack", "bag.toml", "tungsten", "--json")
    assert ran.code == ANSWERED
    assert ran.answer["sheets"] == []
    assert [each["balance"] for each in ran.answer["served"]] == ["3200K"]
    assert ran.answer["searched"] == 1


def test_a_kit_with_errors_ends_with_1() -> None:
    Path("bag.toml").write_text(HEAD + sheet("ful CTB"), "utf-8")
    assert run("pack", "bag.toml", "--json").code == ERRORS_IN_DOCUMENT


def test_every_generic_filter_by_its_word() -> None:
    """`generic`, upper or lower case; a file of that name is written with a path."""
    ran = run("pack", "GENERIC", "tungsten", "--balance", "5600K", "--json")
    assert copies(ran.answer) == {"full CTB": 1}
    assert ran.answer["kit"] == "the generic filters"
    Path("generic").write_text(HEAD + sheet("half CTB"), "utf-8")
    ran = run("pack", "./generic", "tungsten", "--balance", "5600K", "--json")
    assert copies(ran.answer) == {"half CTB": 2}


def test_more_layers_than_can_be_looked_at_are_refused() -> None:
    one = sheet("full CTB").replace('name = "full CTB"', 'name = "sheet NUMBER"')
    filters = "".join(one.replace("NUMBER", str(each)) for each in range(110))
    Path("bag.toml").write_text(HEAD + filters, "utf-8")
    ran = run("pack", "bag.toml", "tungsten", "--layers", "4", "--json")
    assert ran.error["what"].startswith("110 sheets make 6,")
    assert ran.error["remedy"] == "Take fewer layers, or a kit of fewer sheets."
