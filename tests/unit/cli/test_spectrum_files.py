"""Files of spectra on the command line: read wherever a light or a filter is named, and written."""

from __future__ import annotations

import datetime
from pathlib import Path

import numpy as np
import pytest

from evencast.spectra import GRID_NM, Quantity, Spectrum, read_spectrum, spectrum_text
from tests.unit.cli.calling import ANSWERED, BAD_CALL, ERRORS_IN_DOCUMENT, run


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


SLOPE = Spectrum(GRID_NM, (GRID_NM - 300) / 500)
KIT = """format = 1
name = "one sheet"
[[filter]]
name = "mine"
role = "correction"
spectrum = "{}"
"""
PLAN = """format = 1
name = "shed"
kit = "kit.toml"
mains_hz = 50
[camera]
balance = {{ fixed_k = 4300 }}
[[light]]
name = "lamp"
role = "key"
spectrum = "{}"
"""


def file(name: str, quantity: Quantity) -> str:
    """A file of a rising spectrum."""
    text = spectrum_text(
        SLOPE, quantity=quantity, where=name, description="rising", created="2031-05-04"
    )
    Path(name).write_text(text, "utf-8")
    return name


def test_a_light_and_a_filter_are_the_same_from_both_kinds_of_file() -> None:
    """CSV and IES TM-27 of the same samples."""
    lights = [run("light", file(f"a{end}", "power"), "--json") for end in (".csv", ".spdx")]
    assert [each.code for each in lights] == [ANSWERED, ANSWERED]
    assert lights[0].answer["mired"] == lights[1].answer["mired"]
    sheets = [
        run("through", "D65", file(f"b{end}", "transmittance"), "--json")
        for end in (".csv", ".spdx")
    ]
    assert [each.code for each in sheets] == [ANSWERED, ANSWERED]
    for key in ("shift_mired", "shift_duv", "loss_stops"):
        assert sheets[0].answer[key] == sheets[1].answer[key]


def test_what_was_made_out_reaches_the_person() -> None:
    """As the note of a light, and beside the numbers of a stack."""
    file("a.csv", "power")
    file("b.spdx", "transmittance")
    note = 'columns "wavelength_nm" and "power"; 81 samples, 380 to 780 nm, 5 nm apart'
    assert run("light", "a.csv", "--json").answer["note"] == note
    notes = run("through", "a.csv", "b.spdx", "--json").answer["notes"]
    assert f"a: {note}." in notes
    assert (
        'b: "rising"; IESTM2714, transmittance; 81 samples, 380 to 780 nm, 5 nm apart; '
        "values as shares of 1, since none is above 1."
    ) in notes


def test_a_kit_and_a_plan_take_both_kinds_of_file() -> None:
    """The same filter and the same light from either."""
    shifts, duvs = [], []
    for end in (".csv", ".spdx"):
        Path("kit.toml").write_text(KIT.format(file(f"b{end}", "transmittance")), "utf-8")
        Path("plan.toml").write_text(PLAN.format(file(f"a{end}", "power")), "utf-8")
        through = run("through", "D65", "MINE", "--kit", "kit.toml", "--json")
        assert through.code == ANSWERED
        shifts.append(through.answer["shift_mired"])
        solved = run("solve", "plan.toml", "--json")
        assert solved.code == ANSWERED
        duvs.append(solved.answer["lights"][0]["bare"]["duv"])
    assert shifts[0] == shifts[1]
    assert duvs[0] == duvs[1]


def test_a_document_names_the_fault_of_its_file() -> None:
    """Which filter or light, which file, what and what to do."""
    Path("kit.toml").write_text(KIT.format(file("a.spdx", "power")), "utf-8")
    ran = run("filters", "--kit", "kit.toml", "--json")
    assert ran.code == ERRORS_IN_DOCUMENT
    assert ran.answer["problems"] == [
        {
            "severity": "error",
            "where": 'kit.toml, filter "mine" (a.spdx)',
            "message": 'the values are "relative": they belong to a light, not to a filter',
            "remedy": "For a filter SpectralQuantity is transmittance or T-Factor: correct it if "
            "the values are that.",
        }
    ]


def test_utf_16_is_refused() -> None:
    """With its byte order mark, whatever its declaration says."""
    file("a.spdx", "power")
    text = Path("a.spdx").read_text("utf-8").replace("UTF-8", "UTF-16")
    Path("a.spdx").write_bytes(text.encode("utf-16"))
    assert run("light", "a.spdx", "--json").error == {
        "what": "is not text in UTF-8: line 1 holds other bytes",
        "where": "a.spdx",
        "remedy": "Save it as UTF-8 text; a spreadsheet goes out as CSV in UTF-8.",
    }


@pytest.mark.parametrize("end", [".csv", ".spdx", ".SPDX"])
def test_a_light_is_written(end: str) -> None:
    """At the grid where it is not measured; it reads back to the same colour."""
    ran = run("light", "FL2", "--write", f"out{end}", "--json")
    assert ran.answer["written_to"] == f"out{end}"
    again = run("light", f"./out{end}", "--json").answer
    for key in ("mired", "duv", "x", "y"):
        assert again[key] == ran.answer[key]
    assert run("light", "FL2", "--write", f"also{end}").out.endswith(f"\nWritten to also{end}\n")


def test_a_measured_light_keeps_its_samples() -> None:
    """From one kind of file to the other, digit for digit."""
    nm = np.arange(380.0, 781.0)
    own = Spectrum(nm, np.random.default_rng(9).uniform(0.1, 1, len(nm)))
    text = spectrum_text(own, quantity="power", where="a.csv", description="", created="")
    Path("a.csv").write_text(text, "utf-8")
    assert run("light", "a.csv", "--write", "b.spdx").code == ANSWERED
    assert run("light", "b.spdx", "--write", "c.csv").code == ANSWERED
    assert Path("c.csv").read_text("utf-8") == text


def test_a_dimmed_light_is_written_as_it_is_now() -> None:
    """Not at the samples it was measured at before."""
    dimmed = run("light", "tungsten -1stop", "--write", "a.csv", "--json").answer
    assert run("light", "a.csv", "--json").answer["mired"] == dimmed["mired"]


def test_a_stack_is_written() -> None:
    """Its transmittance: the file does what the sheets do."""
    ran = run("through", "FL2", "half CTB", "light frost", "--write", "stack.spdx", "--json")
    assert ran.answer["written_to"] == "stack.spdx"
    text = Path("stack.spdx").read_text("utf-8")
    assert "<Description>half CTB + light frost</Description>" in text
    today = datetime.datetime.now(tz=datetime.UTC).date()
    day = datetime.timedelta(days=1)
    assert any(f">{date}<" in text for date in (today - day, today, today + day))
    read = read_spectrum(text, quantity="transmittance", where="stack.spdx").spectrum
    assert run("through", "FL2", "half CTB", "light frost", "--write", "stack.csv").code == 0
    again = Path("stack.csv").read_text("utf-8")
    same = read_spectrum(again, quantity="transmittance", where="stack.csv").spectrum
    np.testing.assert_array_equal(read.values, same.values)


@pytest.mark.parametrize(
    ("to", "what", "remedy"),
    [
        (
            "out.xml",
            "a spectrum is written as .csv or .spdx",
            "End the name in .csv, or in .spdx for IES TM-27.",
        ),
        ("there.csv", "is there already", "Choose another name, or move the file away."),
        (
            "none/out.csv",
            "cannot be written: No such file or directory",
            "Check that the folder exists, that you may write there, and that the disk has room.",
        ),
    ],
)
def test_what_cannot_be_written_is_told(to: str, what: str, remedy: str) -> None:
    """Another ending, a file that is there, a folder that is not; nothing is answered."""
    Path("there.csv").write_text("mine", "utf-8")
    for call in (("light", "FL2"), ("through", "FL2", "half CTB")):
        ran = run(*call, "--write", to, "--json")
        assert ran.code == BAD_CALL
        assert ran.error == {"what": what, "where": to, "remedy": remedy}
    assert Path("there.csv").read_text("utf-8") == "mine"


def test_nothing_a_terminal_would_obey_is_printed() -> None:
    """Names come from other people's files; JSON escapes them, text leaves them out."""
    ran = run("light", "a\x1b[2Jb\x9bc")
    assert '"a\ufffd[2Jb\ufffdc"' in ran.err
    assert "\x1b" not in ran.err
    assert run("light", "a\x1bb", "--json").error["what"] == 'no light is called "a\x1bb"'


@pytest.mark.parametrize("stops", ["21", "-20.5", "9" * 400])
def test_a_level_beyond_any_meter(stops: str) -> None:
    """It would be kept as infinite, or as a number that no light has."""
    sign = "" if stops.startswith("-") else "+"
    assert run("match", "FL2", "--aim", f"5600K{sign}{stops}stop", "--json").error == {
        "what": f"{float(stops):g} stops from the key is no level",
        "where": "--aim",
        "remedy": "Write a level within 20 stops, such as +0.5stop.",
    }


@pytest.mark.parametrize(
    ("arguments", "where"),
    [
        (("light", "tungsten" + " -1stop" * 3000), "light"),
        (("through", "FL2", "full " * 3000), "filters"),
        (("match", "FL2", "--aim", "a" + " " * 100_000), "--aim"),
        (("match", "FL2", "--aim", "balance", "--balance", "9" * 9000 + "K"), "--balance"),
    ],
)
def test_an_endless_text_is_refused_at_once(arguments: tuple[str, ...], where: str) -> None:
    """No pattern is tried on it."""
    ran = run(*arguments, "--json")
    assert ran.code == BAD_CALL
    assert ran.error == {
        "what": f"{max(len(each) for each in arguments)} letters are too many",
        "where": where,
        "remedy": "Write at most 1000; `evencast --help` shows the forms.",
    }
