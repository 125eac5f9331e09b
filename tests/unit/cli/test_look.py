from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from tests.unit.cli.calling import ANSWERED, BAD_CALL, KIT, run

THIRD = Path(__file__).resolve().parents[2] / "published" / "camera_third.csv"


@pytest.fixture(autouse=True)
def in_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def test_one_object_with_a_picture_for_each_balance() -> None:
    answer = run("look", "light", "FL4", "half CTB", "--json").answer
    assert [each["balance"] for each in answer["pictures"]] == ["3200 K", "5600 K"]
    assert answer["written_to"] is None
    first = answer["pictures"][0]
    assert (first["camera"], first["display"], first["exposure"]) == ("eye", "sRGB", "held")
    assert first["residual_rg_stops"] is None
    assert [each["name"] for each in first["bare"][:3]] == ["grey", "light skin", "dark skin"]
    assert list(first["bare"][0]) == ["name", "hex", "limited"]


def test_text_says_what_json_says_within_80_columns() -> None:
    ran = run("look", "light", "FL4", "half CTB", "--camera", "camera a", "--balance", "3200K")
    told = ran.out
    seen = run(
        *("look", "light", "FL4", "half CTB", "--camera", "camera a", "--balance", "3200K"),
        "--json",
    ).answer["pictures"][0]
    assert ran.code == ANSWERED
    assert max(len(line) for line in told.splitlines()) <= 80
    assert f"R/G {seen['residual_rg_stops']:+.2f} stop" in told
    assert f"{abs(seen['residual_mired']):.0f} ±" in told
    for side in ("bare", "filtered"):
        for patch in seen[side][:3]:
            assert patch["hex"] in told
    grey = bytes.fromhex(seen["bare"][0]["hex"][1:])
    assert "  ".join(f"{each / 2.55:.0f}" for each in grey) in told
    assert "not a photograph" in told


def test_a_light_alone_is_told_alone() -> None:
    told = run("look", "light", "D65", "--balance", "5600K").out
    assert "Through" not in told
    assert "loss" not in told
    assert "metered" not in told


@pytest.mark.parametrize("ending", ["svg", "png", "SVG"])
def test_drawn_to_a_new_file(ending: str) -> None:
    name = f"tubes.{ending}"
    ran = run("look", "light", "FL2", "half CTO", "--to", name, "--json")
    assert ran.answer["written_to"] == name
    content = Path(name).read_bytes()
    if ending == "png":
        assert content.startswith(b"\x89PNG")
        return
    picture = content.decode("utf-8")
    assert ET.fromstring(picture).tag.endswith("svg")
    for each in ran.answer["pictures"]:
        assert f"Balanced at {each['balance']}" in picture
        for patch in (*each["bare"], *each["filtered"]):
            assert f'"{patch["hex"]}"' in picture


def test_a_file_that_is_there_is_kept() -> None:
    Path("tubes.svg").write_text("mine", "utf-8")
    error = run("look", "light", "FL2", "--to", "tubes.svg", "--json")
    assert error.code == BAD_CALL
    assert error.error["where"] == "tubes.svg"
    assert Path("tubes.svg").read_text("utf-8") == "mine"


def test_own_camera_and_own_kit() -> None:
    Path("kit.toml").write_text(KIT, "utf-8")
    Path("mine.csv").write_text(THIRD.read_text("utf-8"), "utf-8")
    answer = run(
        *("look", "light", "tungsten", "half CTB", "--kit", "kit.toml", "--camera", "mine.csv"),
        *("--display", "display p3", "--exposure", "compensated", "--json"),
    ).answer
    first = answer["pictures"][0]
    assert (first["camera"], first["display"]) == ("mine", "Display P3")
    assert first["exposure"] == "compensated"
    assert first["residual_rg_stops"] is not None


@pytest.mark.parametrize(
    ("arguments", "where"),
    [
        (("--camera", "camera Z"), "camera"),
        (("--camera", "./none.csv"), "none.csv"),
        (("--camera", "./bad.csv"), "bad.csv, line 1"),
        (("--display", "paper"), "display"),
        (("--balance", "warm"), "--balance"),
        (("--balance", "100K"), "100K"),
        (("--balance", "3200K+0.3"), "balance"),
        (("--to", "picture.jpeg"), "--to"),
        (("--to", "no/such/folder.svg"), "no/such/folder.svg"),
        (("--exposure", "auto"), "evencast look light"),
        (tuple(f"--balance={3200 + step}K" for step in range(7)), "--balance"),
    ],
)
def test_a_bad_call_says_what_where_and_what_to_do(arguments: tuple[str, ...], where: str) -> None:
    Path("bad.csv").write_text("wavelength_nm,red\n400,1\n", "utf-8")
    ran = run("look", "light", "tungsten", *arguments, "--json")
    assert ran.code == BAD_CALL
    assert where in ran.error["where"]
    assert not list(Path().glob("picture*"))


def test_a_bad_ending_is_refused_before_anything_is_computed() -> None:
    """Nothing is half done: the error is the ending's even where the light is unknown too."""
    assert run("look", "light", "no such lamp", "--to", "x.gif", "--json").error["where"] == "--to"


def test_the_group_says_what_it_holds() -> None:
    ran = run("look", "--help")
    assert ran.code == ANSWERED
    assert "light" in ran.out
    assert run("look").code == BAD_CALL
