"""Exit codes and errors of the command line, as other people's scripts rely on them."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast.errors import EvencastError
from tests.unit.cli.calling import (
    ANSWERED,
    BAD_CALL,
    ERRORS_IN_DOCUMENT,
    FROST_ONLY,
    KIT,
    PLAN,
    Ran,
    run,
)


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


BAD_CALLS = {
    "unknown light": (
        ("light", "tungsden"),
        'no light is called "tungsden"',
        "lights",
        "Did you mean tungsten",
    ),
    "unknown filter": (
        ("through", "tungsten", "ful CTB"),
        'no filter is called "ful CTB"',
        "filters",
        "Did you mean full CTB",
    ),
    "light without unit": (("light", "3200"), '"3200" has no unit', "light", "Write 3200K"),
    "missing file": (
        ("light", "./lamp.csv"),
        "there is no such file",
        "lamp.csv",
        "Check the name.",
    ),
    "missing folder": (
        ("light", "lamps/lamp.csv"),
        'there is no folder "lamps"',
        "lamps/lamp.csv",
        "Check the path; it is taken from the folder you are in.",
    ),
    "missing kit": (
        ("match", "FL2", "--aim", "3200K", "--kit", "van.toml"),
        "there is no such file",
        "van.toml",
        "Check the name.",
    ),
    "missing plan": (
        ("solve", "plan.toml"),
        "there is no such file",
        "plan.toml",
        "Check the name.",
    ),
    "impossible colour": (
        ("match", "FL2", "--aim", "0.9,0.9"),
        "no real colour has x 0.9, y 0.9",
        "--aim",
        "Give an x, y inside the horseshoe",
    ),
    "impossible white": (
        ("match", "FL2", "--aim", "5600K+0.2"),
        "5600 K with a Duv of 0.2 is no white that light can have",
        "5600K+0.2",
        "Use 1000 to 100000 K and a Duv within 0.05.",
    ),
    "bad aim": (
        ("match", "FL2", "--aim", "warmish"),
        '"warmish" is not an aim',
        "--aim",
        "Write 5600K",
    ),
    "aim without its balance": (
        ("match", "FL2", "--aim", "balance-30mired"),
        '"balance-30mired" needs the camera\'s balance',
        "--aim",
        "Add it, for example --balance 4300K.",
    ),
    "aim far from the balance": (
        ("match", "FL2", "--aim", "balance-900mired", "--balance", "4300K"),
        "-900 mired and +0 Duv from 4300K is no white that light can have",
        "balance-900mired",
        "Use -222 to +767 mired and at most 0.05 Duv in all.",
    ),
    "look without its balance": (
        ("match", "FL2", "--aim", "look late sun"),
        '"look late sun" needs the camera\'s balance',
        "--aim",
        "Add it, for example --balance 4300K.",
    ),
    "unknown look": (
        ("match", "FL2", "--aim", "look moonshine, silver", "--balance", "3200K"),
        'no look is called "moonshine, silver"',
        "looks",
        "Did you mean moonlight, silver",
    ),
    "one of several looks": (
        ("match", "FL2", "--aim", "look Moonlight -1stop", "--balance", "3200K"),
        '"Moonlight" may be any of 3 looks',
        "looks",
        "Write moonlight, discreet or moonlight, graphic or moonlight, silver.",
    ),
    "look off the whites": (
        ("match", "FL2", "--aim", "look screen glow", "--balance", "20000K"),
        "-100.5 mired and +0 Duv from 20000K is no white that light can have",
        "look screen glow",
        "Use -40 to +949 mired and at most 0.05 Duv in all.",
    ),
    "pack a kit that is not there": (
        ("pack", "van.toml"),
        "there is no such file",
        "van.toml",
        "Check the name.",
    ),
    "pack for an unknown light": (
        ("pack", "generic", "tungsden"),
        'no light is called "tungsden"',
        "lights",
        "Did you mean tungsten",
    ),
    "pack at a bad balance": (
        ("pack", "generic", "tungsten", "--balance", "warm"),
        '"warm" is not a balance',
        "--balance",
        "Write 4300K or 4300K+0.002.",
    ),
    "bad balance": (
        ("match", "FL2", "--aim", "balance", "--balance", "warm"),
        '"warm" is not a balance',
        "--balance",
        "Write 4300K or 4300K+0.002.",
    ),
    "dimmed tube": (
        ("light", "FL2 -1stop"),
        "cool white tube FL2 is halophosphate tube: only tungsten warms on a dimmer",
        "cool white tube FL2 -1stop",
        "Dim an LED panel at its own control",
    ),
    "bad option": (
        ("light", "FL2", "--colour"),
        "No such option '--colour'.",
        "evencast light",
        "`evencast light --help` shows what is accepted.",
    ),
    "bad value": (
        ("match", "FL2", "--aim", "3200K", "--layers", "9"),
        "Invalid value for '--layers': 9 is not in the range 1<=x<=4.",
        "evencast match",
        "`evencast match --help` shows what is accepted.",
    ),
    "missing argument": (
        ("through", "FL2"),
        "Missing argument 'FILTER...'.",
        "evencast through",
        "`evencast through --help` shows what is accepted.",
    ),
    "bad command": (
        ("lihgt", "FL2"),
        "No such command 'lihgt'.",
        "evencast",
        "`evencast --help` shows what is accepted.",
    ),
}


@pytest.mark.parametrize("case", BAD_CALLS)
def test_a_bad_call_ends_with_2_and_says_what_where_and_what_to_do(case: str) -> None:
    """As three lines on standard error, and with --json as one object on standard output."""
    arguments, what, where, remedy = BAD_CALLS[case]
    spoken, coded = run(*arguments), run(*arguments, "--json")
    assert (spoken.code, coded.code) == (BAD_CALL, BAD_CALL)
    assert spoken.out == ""
    assert coded.err == ""
    error = coded.error
    assert list(coded.answer) == ["error"]
    assert error["what"].startswith(what)  # click may add what it thinks was meant
    assert error["where"] == where
    assert error["remedy"].startswith(remedy)
    assert spoken.err.splitlines() == [
        f"what:   {error['what']}",
        f"where:  {error['where']}",
        f"remedy: {error['remedy']}",
    ]


def test_an_unreadable_spectrum_ends_with_2() -> None:
    """Words in it, a folder instead of it, bytes that are no text."""
    Path("words.csv").write_text("nm,power\nfour,five\n", "utf-8")
    Path("bytes.csv").write_bytes(b"nm,power\n\xff\xfe\x00\n")
    Path("folder.csv").mkdir()
    for name, what in (
        ("words.csv", '"four" is not a number'),
        ("bytes.csv", "is not text in UTF-8: line 2 holds other bytes"),
        ("folder.csv", "is a folder"),
    ):
        for arguments in (("light", name), ("through", "FL2", f"./{name}")):
            ran = run(*arguments, "--json")
            assert ran.code == BAD_CALL
            assert ran.error["what"] == what
            assert ran.error["where"].startswith(name)


def problems_of(ran: Ran) -> list[dict[str, str]]:
    """The problems that came with errors of a document; each with place and remedy."""
    assert ran.code == ERRORS_IN_DOCUMENT
    assert list(ran.answer) == ["error", "problems"]
    problems: list[dict[str, str]] = ran.answer["problems"]
    assert all(each["severity"] in ("error", "warning") for each in problems)
    assert all(each["where"] and each["message"] and each["remedy"] for each in problems)
    errors = sum(each["severity"] == "error" for each in problems)
    assert ran.error["what"] in ("1 error in the document", f"{errors} errors in the document")
    return problems


def test_several_errors_in_a_plan_are_all_told_and_end_with_1() -> None:
    """In the plan and in its kit, in one run; in words the same as in JSON."""
    Path("kit.toml").write_text(KIT.replace('"half CTB"\n\n', '"hlaf CTB"\n\n'), "utf-8")
    Path("plan.toml").write_text(
        PLAN.replace("mains_hz = 50\n", "")
        + '\n[[light]]\nname = "tube"\nrole = "fill"\nbuiltin = "FL 99"\n',
        "utf-8",
    )
    problems = problems_of(run("solve", "plan.toml", "--json"))
    errors = [each for each in problems if each["severity"] == "error"]
    assert {(each["where"], each["message"]) for each in errors} == {
        ("plan.toml, mains_hz", '"mains_hz" is missing'),
        ('plan.toml, light "tube".builtin', 'no built-in light is called "FL 99"'),
        ('kit.toml, filter "half CTB".generic', 'no built-in filter is called "hlaf CTB"'),
    }
    spoken = run("solve", "plan.toml")
    assert spoken.code == ERRORS_IN_DOCUMENT
    assert spoken.out == ""
    said = " ".join(spoken.err.split())
    assert all(" ".join(each["message"].split()) in said for each in problems)


def test_bad_spectra_that_a_plan_and_its_kit_name_are_all_told() -> None:
    """A missing lamp, a broken lamp and a broken sheet, each under the light or filter."""
    Path("kit.toml").write_text(
        KIT.replace('generic = "half CTB"', 'spectrum = "bad.csv"'), "utf-8"
    )
    Path("bad.csv").write_text("nm,power\n400,x\n", "utf-8")
    Path("plan.toml").write_text(
        PLAN
        + '\n[[light]]\nname = "one"\nrole = "fill"\nspectrum = "none.csv"\n'
        + '\n[[light]]\nname = "two"\nrole = "fill"\nspectrum = "bad.csv"\n',
        "utf-8",
    )
    problems = problems_of(run("solve", "plan.toml", "--json"))
    errors = [each for each in problems if each["severity"] == "error"]
    assert [each["message"] for each in errors] == [
        '"x" is not a number',
        "there is no such file",
        '"x" is not a number',
    ]
    for each, name in zip(errors, ("half CTB", "one", "two"), strict=True):
        assert f'"{name}"' in each["where"]


def test_an_empty_kit_leaves_the_light_bare_and_says_so() -> None:
    """An answer with a warning that the kit holds no filter; never a failed search."""
    Path("kit.toml").write_text('format = 1\nname = "empty"\n', "utf-8")
    ran = run("match", "FL2", "--aim", "3200K", "--kit", "kit.toml", "--json")
    assert ran.code == ANSWERED
    assert ran.answer["reached"] is False
    assert [each["filters"] for each in ran.answer["choices"]] == [[]]
    (problem,) = ran.answer["problems"]
    assert problem["severity"] == "warning"
    assert problem["message"] == (
        "the kit holds no filter: there is nothing to put in front of any light"
    )


def test_a_kit_without_a_sheet_to_correct_with_leaves_the_light_bare() -> None:
    """Frost is never picked: the answer is that nothing of this kit reaches it, and no error."""
    Path("kit.toml").write_text(FROST_ONLY, "utf-8")
    ran = run("match", "FL2", "--aim", "3200K", "--kit", "kit.toml", "--json")
    assert ran.code == ANSWERED
    assert ran.answer["reached"] is False
    assert ran.answer["searched"] == 1
    assert [each["filters"] for each in ran.answer["choices"]] == [[]]


def test_an_impossible_declaration_ends_with_1_and_the_least_loss() -> None:
    """In a kit document."""
    Path("kit.toml").write_text(
        FROST_ONLY + '\n[[filter]]\nname = "magic"\nrole = "correction"\n'
        "kelvin = { from_k = 3200, to_k = 5600, stops = 0.33 }\n",
        "utf-8",
    )
    ran = run("filters", "--kit", "kit.toml", "--json")
    assert ran.code == ERRORS_IN_DOCUMENT
    (problem,) = ran.answer["problems"]
    assert problem["where"] == 'kit.toml, filter "magic" (kelvin)'
    assert "physically impossible" in problem["message"]
    assert problem["remedy"].startswith("Declare at least 1.20 stop")


def test_a_light_that_nothing_reaches_is_an_answer() -> None:
    """Exit 0, the verdict in the answer, and in a plan a problem of severity warning."""
    ran = run("match", "sodium", "--aim", "5600K", "--json")
    assert ran.code == ANSWERED
    assert ran.answer["reached"] is False
    assert not any(each["within_tolerance"] for each in ran.answer["choices"])
    Path("kit.toml").write_text(KIT, "utf-8")
    Path("plan.toml").write_text(PLAN.replace("tungsten 3200 K", "sodium"), "utf-8")
    solved = run("solve", "plan.toml", "--json")
    assert solved.code == ANSWERED
    (light,) = solved.answer["lights"]
    assert light["within_tolerance"] is False
    assert {each["severity"] for each in solved.answer["problems"]} == {"warning"}


def test_a_light_that_may_only_be_left_is_solved_without_a_search() -> None:
    """`moves` without "filter": no sheet is looked at."""
    Path("kit.toml").write_text(KIT, "utf-8")
    Path("plan.toml").write_text(PLAN + 'moves = ["leave"]\n', "utf-8")
    solved = run("solve", "plan.toml", "--json")
    assert solved.code == ANSWERED
    (light,) = solved.answer["lights"]
    assert light["filters"] == []


def test_the_error_type_carries_all_three() -> None:
    """What the command prints is what the library raises."""
    error = EvencastError("what", where="where", remedy="remedy")
    assert (error.what, error.where, error.remedy) == ("what", "where", "remedy")
