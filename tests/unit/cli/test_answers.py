"""One object per command, 80 columns, and no traceback whatever is asked."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.unit.cli.calling import (
    ANSWERED,
    BAD_CALL,
    ERRORS_IN_DOCUMENT,
    KIT,
    PLAN,
    SOURCES,
    run,
    spectrum,
)


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


COMMANDS = {
    "light": ("light", "FL2"),
    "light by a reading": ("light", "5400K+0.0065"),
    "light without a CCT": ("light", "line.csv"),
    "through": ("through", "tungsten", "half CTB", "ND 0.3"),
    "through a file": ("through", "tungsten", "flat.csv"),
    "match": ("match", "FL2", "--aim", "3200K", "--layers", "1"),
    "match a colour without a CCT": ("match", "FL2", "--aim", "0.2,0.1", "--layers", "1"),
    "match from a kit": ("match", "FL2", "--aim", "like half CTB on tungsten", "--kit", "kit.toml"),
    "solve": ("solve", "plan.toml"),
    "expose": ("expose", "650 tungsten 3m flood", "--through", "full CTB", "--want", "f/8"),
    "expose a tube": ("expose", "FL2", "--stop", "f/4", "--scrim", "double"),
    "ratio": ("ratio", "f/8", "f/5"),
    "ratio wanted": ("ratio", "400lx", "4:1"),
    "load": ("load", "9x650", "575 pf 0.6", "--volts", "120", "--breaker", "20"),
    "match a look": (
        *("match", "tungsten", "--aim", "look fire and candle", "--balance", "5600K"),
        *("--role", "fill", "--layers", "1"),
    ),
    "looks": ("looks",),
    "pack": ("pack", "kit.toml"),
    "pack for lights and balances": (
        *("pack", "kit.toml", "tungsten", "5400K+0.0065", "line.csv"),
        *("--balance", "4300K", "--balance", "5600K+0.002", "--layers", "2"),
    ),
    "pack every generic filter": ("pack", "Generic", "tungsten", "sodium", "--layers", "1"),
    "lights": ("lights",),
    "filters": ("filters",),
    "filters of a kit": ("filters", "--kit", "kit.toml"),
    "schema": ("schema",),
    "schema of plans": ("schema", "plan"),
    "where": ("where",),
    "demo": ("demo",),
    "demo in a new folder": ("demo", "--to", "bindery"),
}


@pytest.mark.parametrize("case", COMMANDS)
def test_every_command_answers_with_exactly_one_object(case: str) -> None:
    """Nothing beside it on standard output, nothing on standard error, no nan in it."""
    Path("kit.toml").write_text(KIT, "utf-8")
    Path("plan.toml").write_text(PLAN, "utf-8")
    spectrum("line.csv", only_nm=380)
    spectrum("flat.csv")
    ran = run(*COMMANDS[case], "--json")
    assert ran.code == ANSWERED
    assert ran.err == ""
    assert ran.answer
    assert "error" not in ran.answer


@pytest.mark.parametrize("case", COMMANDS)
def test_every_command_answers_in_80_columns(case: str) -> None:
    """Plain text; a path may stick out."""
    Path("kit.toml").write_text(KIT, "utf-8")
    Path("plan.toml").write_text(PLAN, "utf-8")
    spectrum("line.csv", only_nm=380)
    spectrum("flat.csv")
    ran = run(*COMMANDS[case])
    assert ran.code == ANSWERED
    assert ran.err == ""
    if not case.startswith(("schema", "where", "demo in")):
        assert max(map(len, ran.out.splitlines())) <= 80


def test_null_rules_of_a_light_without_a_cct() -> None:
    """Kelvin and mired are null, the colour itself is not."""
    spectrum("line.csv", only_nm=520)
    answer = run("light", "line.csv", "--json").answer
    assert answer["state"] == "no_cct"
    assert answer["cct_k"] is None
    assert answer["mired"] is None
    assert answer["x"] is not None
    through = run("through", "line.csv", "half CTB", "--json").answer
    assert through["shift_mired"] is None


def test_a_reading_at_the_limit_of_duv_still_has_a_temperature() -> None:
    """What was typed in range is in range."""
    assert run("light", "3000K-0.05", "--json").answer["state"] == "ok"


ODD = (
    ("light", "0K+0.001"),
    ("light", "200K+0.001"),
    ("light", "panel at 0K"),
    ("light", "tungsten at 0K"),
    ("light", "tungsten at 200K"),
    ("light", "1000K -4stop -1stop"),
    ("light", "huge.csv"),
    ("light", ""),
    ("light", "/"),
    ("light", "a\x00b.csv"),
    ("through", "low-pressure sodium", "violet.csv"),
    ("through", "violet.csv", "red.csv"),
    ("match", "violet.csv", "--aim", "3200K", "--layers", "1"),
    ("match", "FL2", "--aim", "like violet.csv on low-pressure sodium", "--layers", "1"),
    ("match", "FL2", "--aim", "like ", "--layers", "1"),
    ("match", "FL2", "--aim", "1000K-0.05", "--layers", "1"),
    ("match", "huge.csv", "--aim", "3200K", "--layers", "1"),
    ("demo", "--to", "a/b/c"),
    ("demo", "--to", "flat.csv"),
    ("solve", "."),
    ("solve", "flat.csv"),
    ("filters", "--kit", "flat.csv"),
    ("light", "FL2", "FL3"),
    ("--json",),
    (),
)


@pytest.mark.filterwarnings("ignore::RuntimeWarning")
@pytest.mark.parametrize("arguments", ODD, ids=repr)
def test_odd_input_never_ends_in_a_traceback(arguments: tuple[str, ...]) -> None:
    """An answer or an error, either way one object and an exit code of the contract."""
    spectrum("violet.csv", only_nm=400)
    spectrum("red.csv", only_nm=700)
    spectrum("flat.csv")
    spectrum("huge.csv", value="1.7e308")
    ran = run(*arguments) if "--json" in arguments else run(*arguments, "--json")
    assert ran.code in (ANSWERED, ERRORS_IN_DOCUMENT, BAD_CALL)
    assert ran.answer
    if ran.code == ANSWERED:
        assert "error" not in ran.answer
    else:
        assert ran.error


def test_no_number_in_an_answer_comes_from_an_overflow() -> None:
    """A lamp given in huge numbers has the colour of the same lamp in small ones, or is refused."""
    spectrum("huge.csv", value="1.7e308")
    spectrum("flat.csv")
    huge, flat = run("light", "huge.csv", "--json"), run("light", "flat.csv", "--json")
    if huge.code == ANSWERED:
        assert huge.answer["cct_k"] == pytest.approx(flat.answer["cct_k"], abs=0.01)
    else:
        assert huge.error


def test_help_ends_with_0_and_without_a_command_with_2() -> None:
    """Help is an answer; nothing asked is a bad call, and shows the help all the same."""
    helped, bare = run("--help"), run()
    assert helped.code == ANSWERED
    assert "Commands:" in helped.out
    assert bare.code == BAD_CALL
    assert "Commands:" in bare.err


def test_the_whole_process_keeps_the_contract() -> None:
    """As a script sees it: the error on standard output alone, its exit code, no traceback."""
    done = subprocess.run(
        [sys.executable, "-m", "evencast", "light", "tungsden", "--json"],
        env=os.environ | {"PYTHONPATH": str(SOURCES)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == BAD_CALL
    assert done.stderr == ""
    assert json.loads(done.stdout)["error"]["where"] == "lights"


def test_a_reader_that_goes_away_is_no_error() -> None:
    """`evencast lights | head -1`: no traceback, no complaint."""
    done = subprocess.run(
        f'"{sys.executable}" -m evencast lights | head -c 1',
        shell=True,
        env=os.environ | {"PYTHONPATH": str(SOURCES)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr == ""


def test_a_lamp_that_shall_look_like_one_that_lacks_colours_matches_its_chroma_alone() -> None:
    """Sodium has no blue and hardly a green: the answer says so, also behind a sheet; not of a
    lamp that lacks none, nor between two that lack them."""
    said = "Only the chroma of high-pressure sodium HP1 is matched, never its spectrum"

    def notes(light: str, aim: str) -> list[str]:
        notes: list[str] = run("match", light, "--aim", aim, "--layers", "1", "--json").answer[
            "notes"
        ]
        return notes

    for aim in ("like sodium", "like full CTO on sodium", "like sodium+0.5stop"):
        assert any(each.startswith(said) for each in notes("tungsten", aim)), aim
    assert notes("tungsten", "like FL2") == []
    assert not any(each.startswith(said) for each in notes("white sodium", "like sodium"))


def test_no_next_best_that_is_hardly_nearer_than_the_bare_light() -> None:
    """A panel 5 mired and 0.003 Duv off: ND takes light and leaves it where it is."""
    told = run(
        *("match", "5450K+0.004", "--kind", "LED", "--aim", "5600K+0.001"),
        *("--layers", "1", "--most", "40", "--json"),
    ).answer
    bare = told["no_filter"]["miss_uv"]
    by_name = {" + ".join(each["filters"]): each["miss_uv"] for each in told["choices"]}
    assert by_name["ND 0.3"] == pytest.approx(bare, rel=0.1)
    named = told["reason"].partition("Next best: ")[2].partition(" leaves")[0]
    assert named == "" or by_name[named] < 0.9 * bare
    assert "ND" not in told["reason"]
