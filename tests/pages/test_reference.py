"""The published reference: every number read back from its PDF, and how it looks."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner

from evencast.cli import main
from evencast.quantities import say_duv, say_stops
from tests.kits import framed_kit, kit_text, large_kit, odd_kit, plain_kit, write_kit
from tests.pages.reading import (
    assert_accessible,
    assert_like_snapshot,
    pictures,
    sizes_mm,
    text_of,
)

FIXED = ("--date", "2031-05-04", "--author", "Ada Moss")


def card(kit: Path, *options: str) -> dict[str, Any]:
    """What `card --json` says; the documents go beside the kit."""
    told = CliRunner().invoke(
        main, ["card", str(kit), "--to", str(kit.parent / "out"), *FIXED, *options, "--json"]
    )
    assert told.exit_code == 0, told.output
    answer: dict[str, Any] = json.loads(told.stdout)
    return answer


def written(kit: Path, name: str = "reference.pdf") -> bytes:
    return (kit.parent / "out" / name).read_bytes()


def through(light: str, name: str, kit: Path) -> dict[str, Any]:
    told = CliRunner().invoke(main, ["through", light, name, "--kit", str(kit), "--json"])
    assert told.exit_code == 0, told.output
    answer: dict[str, Any] = json.loads(told.stdout)
    return answer


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    return write_kit(tmp_path, plain_kit())


def test_its_numbers_are_those_of_through(plain: Path) -> None:
    """Shift, Duv shift, loss, band and what comes out, for the lamp of each row."""
    rows = card(plain, "--as", "reference")["rows"]
    assert len(rows) == 9
    for row in rows:
        told = through(row["light"], row["name"], plain)
        for key in ("shift_mired", "shift_duv", "loss_stops", "band", "nominal"):
            assert row[key] == told[key], (row["name"], key)
        for key in ("cct_k", "duv", "green_duv"):
            assert row[f"filtered_{key}"] == told["filtered"][key], (row["name"], key)
        assert row["bare_cct_k"] == told["bare"]["cct_k"]
        assert row["cautions"] == told["cautions"]


def test_transmission_and_factor_follow_from_the_loss(plain: Path) -> None:
    for row in card(plain, "--as", "reference")["rows"]:
        share = 2.0 ** -row["loss_stops"]
        assert row["transmission_percent"] == pytest.approx(100 * share, abs=1e-7)
        assert row["filter_factor"] == pytest.approx(1 / share, abs=1e-4)
        if row["band"] is None:
            assert row["transmission_band_percent"] is None
            assert not row["nominal"]
        else:
            low, high = row["band"]["loss_stops"]
            assert row["transmission_band_percent"] == pytest.approx(
                [100 * 2.0**-high, 100 * 2.0**-low], abs=1e-7
            )
            assert row["filter_factor_band"] == pytest.approx([2.0**low, 2.0**high], abs=1e-4)


def test_the_pdf_says_the_numbers_of_the_answer(plain: Path) -> None:
    """Value and band of every filter, as text on the page."""
    rows = card(plain, "--as", "reference")["rows"]
    text = text_of(written(plain))
    for row in rows:
        at = text.index(f" {row['name']} {row['purpose'][0].upper()}{row['purpose'][1:]}.")
        told = text[at : at + 1500]
        loss = f"{say_stops(row['loss_stops'])}, {row['loss_stops']:.2f}"
        assert loss in told, row["name"]
        if row["shift_mired"] is None:
            assert "no colour temperature" in told
        elif abs(row["shift_mired"]) >= 0.5:
            side = "warmer" if row["shift_mired"] > 0 else "cooler"
            assert f"{abs(row['shift_mired']):.0f} mired {side}" in told
        assert f"{say_duv(row['shift_duv'])}, {row['shift_duv'] + 0.0:+.4f}" in told
        percent, factor = row["transmission_percent"], row["filter_factor"]
        assert f"Passes {percent:.0f} %" in told
        assert f"Factor {factor:.1f}" in told
        if row["band"] and not row["loss_range_stops"]:
            low, high = row["band"]["loss_stops"]
            assert f"({low:.2f} to {high:.2f})" in told
        for sentence in (*row["use"], *row["limits"]):
            assert sentence in told, row["name"]


def test_the_table_holds_the_numbers_unrounded(plain: Path) -> None:
    rows = card(plain, "--as", "reference")["rows"]
    table = list(csv.DictReader(written(plain, "reference.csv").decode("utf-8").splitlines()))
    assert [each["filter"] for each in table] == [each["name"] for each in rows]
    for cells, row in zip(table, rows, strict=True):
        assert float(cells["loss_stops"]) == row["loss_stops"]
        assert float(cells["transmission_percent"]) == row["transmission_percent"]
        if row["shift_mired"] is None:
            assert cells["shift_mired"] == ""
        else:
            assert float(cells["shift_mired"]) == row["shift_mired"]
        if row["band"] is None:
            assert cells["loss_stops_low"] == cells["loss_stops_high"] == ""


def test_filters_are_sorted_by_role_series_and_strength(plain: Path) -> None:
    answer = card(plain, "--as", "reference")
    assert [each["name"] for each in answer["rows"]] == [
        "half CTB",
        "full CTB",
        "half CTO",
        "old blue",
        "market orange",
        "quarter minus green",
        "ND 0.6",
        "medium frost",
        "deep green",
    ]


def test_each_filter_stands_before_the_lamp_it_is_meant_for(plain: Path) -> None:
    """Blues on tungsten, a measured one by what it does; all else on daylight; or one for all."""
    lamps = {each["name"]: each["light"] for each in card(plain, "--as", "reference")["rows"]}
    blue = {"half CTB", "full CTB", "old blue"}
    for name, lamp in lamps.items():
        assert lamp == ("tungsten 3200 K" if name in blue else "daylight 5600 K"), name
    rows = card(plain, "--as", "reference", "--replace", "--light", "FL2")["rows"]
    assert {each["light"] for each in rows} == {"cool white tube FL2"}
    assert "cool white tube FL2" in text_of(written(plain))


def test_where_a_number_comes_from_is_on_the_page(plain: Path) -> None:
    card(plain, "--as", "reference")
    text = text_of(written(plain))
    for told in (
        "From: generic half CTB: a nominal spectrum of our own series, no real sheet",
        "From: measured spectrum, old-blue.csv · faded",
        "From: printed: 5600 K to 4000 K, 0.5 stop · wrapper, 2031-04-02, wrapper.jpg",
        "Observer: CIE 1931, 2 degrees",
        "two meters may differ by a third of a stop",
        "not a photograph",
        "9 filters, by Ada Moss, 2031-05-04",
    ):
        assert told in text, told


def test_it_carries_an_introduction_of_ones_own(plain: Path) -> None:
    intro = plain.parent / "intro.txt"
    intro.write_bytes(
        "\ufeffThese are the sheets\r\nI carry.\r\n\r\n\r\nMetered 半蓝.\r\n".encode()
    )
    card(plain, "--as", "reference", "--intro", str(intro))
    assert "These are the sheets I carry. Metered 半蓝. How to read this" in text_of(written(plain))


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_it_is_accessible_and_has_its_size(
    plain: Path, paper: str, size: tuple[float, float]
) -> None:
    card(plain, "--as", "reference", "--paper", paper)
    pdf = written(plain)
    assert_accessible(pdf, title="Filters: the van")
    assert set(sizes_mm(pdf)) == {size}


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_it_looks_as_it_did(plain: Path, paper: str, keep: bool) -> None:
    card(plain, "--as", "reference", "--paper", paper)
    assert_like_snapshot(f"reference-{paper}", written(plain), keep=keep)


def test_the_same_kit_gives_the_same_bytes(plain: Path) -> None:
    card(plain)
    names = ("reference.pdf", "reference.csv", "comparison.pdf", "lesson.pdf")
    before = [written(plain, name) for name in names]
    card(plain, "--replace")
    assert [written(plain, name) for name in names] == before


def test_odd_names_and_a_nearly_black_sheet_stay_on_the_page(tmp_path: Path) -> None:
    kit = write_kit(tmp_path, odd_kit())
    answer = card(kit)
    black = next(each for each in answer["rows"] if each["name"] == "nearly black")
    assert black["loss_stops"] == pytest.approx(12.0, abs=0.01)
    text = text_of(written(kit))
    for told in ("12 stops, 12.00", "0.024 %", "4096", "[U+1F3AC] blue", "<b>&amp; #strong[x]"):
        assert told in text, told
    assert "n" * 120 in text.replace(" ", "")
    for name in ("reference.pdf", "comparison.pdf", "lesson.pdf"):
        for page in pictures(written(kit, name)):
            edge = page.shape[1] * 12 // 210
            assert min(page[:, :edge].min(), page[:, -edge:].min()) > 250, name
            assert page[-page.shape[0] * 5 // 297 :].min() > 250, name


def test_a_name_that_a_spreadsheet_would_run_is_kept_from_it(tmp_path: Path) -> None:
    kit = write_kit(tmp_path, odd_kit())
    card(kit, "--as", "reference")
    cells = [row[0] for row in csv.reader(written(kit, "reference.csv").decode().splitlines())]
    assert "'=1+1" in cells


def test_an_empty_kit_and_a_kit_of_300_filters(tmp_path: Path) -> None:
    kit = write_kit(tmp_path, kit_text())
    answer = card(kit)
    assert answer["rows"] == []
    assert "The kit holds no filter to show." in text_of(written(kit))
    large = tmp_path / "large"
    large.mkdir()
    kit = write_kit(large, large_kit(300))
    answer = card(kit, "--as", "reference")
    assert len(answer["rows"]) == 300
    text = text_of(written(kit))
    assert all(f" {each['name']} " in text for each in answer["rows"])
    assert text.count("What to do") == 300


def test_a_missing_spectrum_is_an_error_of_the_kit(tmp_path: Path) -> None:
    kit = write_kit(tmp_path, plain_kit())
    (tmp_path / "old-blue.csv").unlink()
    told = CliRunner().invoke(main, ["card", str(kit), "--to", str(tmp_path / "out"), "--json"])
    assert told.exit_code == 1
    (problem,) = json.loads(told.stdout)["problems"]
    assert 'filter "old blue"' in problem["where"]
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("options", "what", "remedy"),
    [
        (["--as", "refrence"], "there is no document 'refrence'", "reference, comparison"),
        (["--form", "gif"], "there is no form 'gif'", "pdf, png and svg"),
        (["--balances", "3200K"], '"3200K" is not two balances', "3200K,5600K"),
        (["--balances", "3200K,3200K"], '"3200K,3200K" is not two balances', "3200K,5600K"),
        (["--balances", "3200K,warm"], '"3200K,warm" is not two balances', "3200K,5600K"),
        (["--balances", "3200K,5600K+0.01"], '"3200K,5600K+0.01" is not two', "3200K,5600K"),
        (["--balances", "3200K,9e9K"], '"3200K,9e9K" is not two balances', "3200K,5600K"),
        (["--balances", "300K,5600K"], "300 K is not a colour temperature", "1000"),
        (["--only", "half CTX"], 'the kit has no filter "half CTX"', "half CTB"),
        (["--light", "no such lamp"], 'no light is called "no such lamp"', "lists them"),
        (["--camera", "no such camera"], "no such camera", "camera A"),
        (["--intro", "nowhere.txt"], "there is no such file", "Check the name"),
        (["--date", "4 May"], '"4 May" is not a date', "year-month-day"),
    ],
)
def test_a_wish_that_cannot_be_met_is_said_and_nothing_is_written(
    plain: Path, options: list[str], what: str, remedy: str
) -> None:
    to = plain.parent / "out"
    told = CliRunner().invoke(main, ["card", str(plain), "--to", str(to), *options, "--json"])
    assert told.exit_code == 2, told.output
    error = json.loads(told.stdout)["error"]
    assert what in error["what"]
    assert remedy in error["remedy"]
    assert not to.exists()


def test_what_is_there_is_not_written_over_unless_asked(plain: Path) -> None:
    card(plain, "--as", "reference")
    before = written(plain)
    told = CliRunner().invoke(
        main, ["card", str(plain), "--to", str(plain.parent / "out"), "--light", "FL2", "--json"]
    )
    assert told.exit_code == 2
    assert "--replace" in json.loads(told.stdout)["error"]["remedy"]
    assert written(plain) == before
    card(plain, "--replace", "--light", "FL2")
    assert written(plain) != before


def test_only_some_filters_and_only_some_documents(plain: Path) -> None:
    answer = card(plain, "--only", "HALF ctb", "--only", "ND 0.6", "--as", "lesson,reference")
    assert [each["name"] for each in answer["rows"]] == ["half CTB", "ND 0.6"]
    assert [Path(each["file"]).name for each in answer["files"]] == [
        "reference.pdf",
        "reference.csv",
        "lesson.pdf",
    ]
    assert all(Path(each["file"]).stat().st_size == each["bytes"] for each in answer["files"])


def test_a_sheet_that_passes_nothing_of_the_light_is_left_out_and_told(tmp_path: Path) -> None:
    """A narrow light in the red, and a sheet that passes the blue alone."""
    kit = write_kit(
        tmp_path,
        kit_text(
            '[[filter]]\nname = "blue end"\nrole = "effect"\nspectrum = "blue-end.csv"',
            '[[filter]]\nname = "half CTB"\nrole = "correction"\ngeneric = "half CTB"',
        ),
    )
    nm = np.arange(380, 781, 5)
    for name, column, at in (
        ("blue-end", "transmittance", nm < 450),
        ("red-end", "power", nm > 640),
    ):
        rows = "".join(f"{each},{int(on)}\n" for each, on in zip(nm, at, strict=True))
        (tmp_path / f"{name}.csv").write_text(f"wavelength_nm,{column}\n{rows}", "utf-8")
    answer = card(kit, "--light", str(tmp_path / "red-end.csv"))
    assert [each["name"] for each in answer["rows"]] == ["half CTB"]
    (problem,) = (each for each in answer["problems"] if "passes" in each["message"])
    assert problem["message"] == "nothing of red-end passes: it is left out"
    assert problem["where"] == 'kit.toml, filter "blue end"'


def test_the_reference_itself_shows_no_photographs(tmp_path: Path) -> None:
    card(framed_kit(tmp_path), "--as", "reference")
    assert "Photograph" not in text_of(written(tmp_path / "kit.toml"))


def test_the_frame_around_the_pictures_is_grey(plain: Path) -> None:
    """Page one holds no picture, and no colour."""
    import pypdfium2

    card(plain, "--as", "reference")
    first = pypdfium2.PdfDocument(written(plain))[0].render(scale=1).to_pil().convert("RGB")
    red, green, blue = (np.asarray(band, dtype=int) for band in first.split())
    assert np.abs(red - green).max() <= 1
    assert np.abs(blue - green).max() <= 1


def test_what_is_printed_on_the_terminal_fits_and_names_the_files(plain: Path) -> None:
    told = CliRunner().invoke(
        main, ["card", str(plain), "--to", str(plain.parent / "out"), *FIXED, "--as", "reference"]
    )
    assert told.exit_code == 0
    assert told.stdout.startswith("The van, 2031-05-04: 9 filters at 3200 K and 5600 K.\n")
    assert re.search(r"half CTB +tungsten 3200 K +67 mired cooler +4069 K", told.stdout)
    assert "deep green" in told.stdout
    assert "no CCT" in told.stdout
    rows = [line for line in told.stdout.splitlines() if "/" not in line]
    assert max(map(len, rows)) <= 80
