"""The colourist's sheet: PDF and CSV say what `solve --json` says."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import asdict
from pathlib import Path

import pytest

from evencast.actions.handouts import colourist
from evencast.actions.handouts.job import Job
from evencast.actions.solve import solve
from evencast.handouts.colourist import COLUMNS
from evencast.handouts.spreadsheet import csv_bytes
from evencast.handouts.typeset import Paper
from evencast.quantities import say_left
from tests.pages import list_jobs as jobs
from tests.pages.reading import assert_accessible, assert_like_snapshot, sizes_mm, text_of
from tests.pages.test_panes import assert_margins


@pytest.fixture(scope="module")
def rich(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return jobs.made_job(jobs.rich_plan(tmp_path_factory.mktemp("rich")))


def files(job: Job) -> tuple[bytes, list[dict[str, str]]]:
    pdf, table = colourist.made(job)
    assert (pdf.name, table.name) == ("colourist.pdf", "colourist.csv")
    text = table.content.decode("utf-8")
    assert text.count("\r\n") == len(list(csv.reader(io.StringIO(text, newline=""))))
    return pdf.content, list(csv.DictReader(io.StringIO(text, newline="")))


def number(cell: str) -> float | None:
    return None if cell == "" else float(cell)


def yes(cell: str) -> bool:
    return {"true": True, "false": False}[cell]


def test_one_row_for_every_set_up_and_light_in_stable_columns(rich: Job) -> None:
    _, rows = files(rich)
    assert tuple(rows[0]) == COLUMNS
    assert [(each["setup"], each["light_number"], each["light"]) for each in rows] == [
        (part.name, str(place), light.name)
        for part in rich.parts
        for place, light in enumerate(part.loaded.plan.light, 1)
    ]


def test_the_csv_is_what_solve_says(rich: Job) -> None:
    _, rows = files(rich)
    of = {(each["setup"], each["light"]): each for each in rows}
    for part in rich.parts:
        answer = json.loads(json.dumps(asdict(solve(rich.path, setup=part.name))))
        for light in answer["lights"]:
            row = of[part.name, light["name"]]
            for name in ("residual_mired", "residual_duv", "loss_stops", "level_stops", "dim_stops",
                         "share_within", "dial_k"):  # fmt: skip
                assert number(row[name]) == light[name], name
            for name in ("within_tolerance", "harmless"):
                assert yes(row[name]) == light[name]
            assert row["filters"] == " + ".join(light["filters"])
            assert row["move"] == light["move"]
            assert number(row["cct_k"]) == light["filtered"]["cct_k"]
            assert number(row["balance_k"]) == answer["balance"]["cct_k"]
            band = light["band"] or {}
            for end, place in (("low", 0), ("high", 1)):
                told = band.get("residual_mired", (None, None))[place]
                assert number(row[f"residual_mired_{end}"]) == told
            offset = light["aim"]["mired"] - answer["balance"]["mired"]
            assert number(row["intended_offset_mired"]) == pytest.approx(offset, abs=0.001)
            assert float(row["exposure_s"]) == pytest.approx(1 / 50)
        levels = {each["name"]: each for each in answer["exposure"]["lights"]}
        key = levels[answer["exposure"]["key"]]
        for name, level in levels.items():
            stops = level["over_shot_stops"][1] - key["over_shot_stops"][1]
            assert float(of[part.name, name]["against_key_stops"]) == pytest.approx(stops, abs=1e-3)


def test_what_was_rigged_and_read_is_held_against_the_aim(rich: Job) -> None:
    """Read 4690 K against an aim 20 mired below 4300 K: 1e6/4690 - (1e6/4300 - 20) = 0.7 mired."""
    pdf, rows = files(rich)
    window = rows[0]
    assert yes(window["rigged"])
    assert window["rigged_filters"] == "half CTO"
    assert float(window["read_residual_mired"]) == pytest.approx(
        1e6 / 4690 - (1e6 / 4300 - 20), abs=0.002
    )
    assert window["read_time"] == "2031-05-04T16:20+02:00"
    assert (window["read_sky"], window["read_frame"]) == ("thin cloud", "A014_C003")
    assert not yes(rows[1]["rigged"])
    assert rows[1]["rigged_residual_mired"] == ""
    text = text_of(pdf)
    for told in (
        "rigged: half CTO",
        "read 4690 K, Duv +0.0010, f/5.6: 1 mired warm",
        "A014_C003",
        "thin cloud",
        "meant to be 20 mired cool",
        "meant to be 40 mired cool",
    ):
        assert told in text


def test_what_is_planned_is_rigged_alike(rich: Job) -> None:
    """The window rigged as it is planned has the same residual, worked out another way."""
    _, (window, *_) = files(rich)
    assert window["filters"] == window["rigged_filters"]
    for name in ("residual_mired", "residual_duv"):
        assert float(window[f"rigged_{name}"]) == pytest.approx(float(window[name]), abs=0.005)


def test_the_pdf_says_residuals_levels_and_camera(rich: Job) -> None:
    pdf, rows = files(rich)
    text = text_of(pdf)
    for part in rich.parts:
        for light in part.answer.lights[1:3]:
            told = say_left(light.residual_mired, light.residual_duv)
            assert told.split(" ", 1)[1] in text
            assert light.band is not None
            low, high = light.band["residual_mired"]
            assert low is not None
            assert high is not None
            assert f"{told.split(' ', 1)[0]} ± {(high - low) / 2:.0f} mired" in text
    for told in ("T 4", "1/50 s, 25 frames per second", "4300 K (232.6 mired)", "the key", "800"):
        assert told in text
    red = float(rows[3]["camera_residual_rg_stops"])
    assert f"R/G {red:+.2f} stop" in text
    assert red > 0  # a warm bulb, bare at 4300 K


def test_a_light_at_the_balance_is_neutral_to_the_camera(tmp_path: Path) -> None:
    """A light of the balance's own white, bare: nothing in R/G and B/G."""
    lights = '[[light]]\nname = "white"\nrole = "key"\ncct_k = 5600\nkind = "daylight"\n'
    path = jobs.bare_plan(tmp_path, lights=lights)
    text = path.read_text(encoding="utf-8").replace(
        "[camera]\n", '[camera]\nsensitivity = "camera B"\n'
    )
    path.write_text(text, encoding="utf-8")
    _, (row,) = files(jobs.made_job(path))
    assert abs(float(row["camera_residual_rg_stops"])) < 0.05
    assert abs(float(row["camera_residual_bg_stops"])) < 0.05


@pytest.mark.parametrize("name", ["camera Q", "missing.csv"])
def test_a_camera_that_cannot_be_read_keeps_no_sheet_from_being_made(
    tmp_path: Path, name: str
) -> None:
    path = jobs.rich_plan(tmp_path)
    path.write_text(path.read_text("utf-8").replace("camera A", name), "utf-8")
    job = jobs.made_job(path)
    problems = [each.where for each in colourist.made(job)[0].problems]
    assert problems.count("plan.toml, camera.sensitivity") == 1
    _, rows = files(job)
    assert {each["camera_residual_rg_stops"] for each in rows} == {""}


def test_a_sheet_that_nobody_knows_keeps_no_sheet_from_being_made(tmp_path: Path) -> None:
    """It is told by its name, and that its numbers are not worked out."""
    path = jobs.rich_plan(tmp_path)
    text = path.read_text("utf-8").replace('["half CTO"]', '["a blue curtain"]')
    path.write_text(text, "utf-8")
    job = jobs.made_job(path)
    made = colourist.made(job)[0]
    assert any('"a blue curtain"' in each.message for each in made.problems)
    assert "rigged: a blue curtain not worked out" in text_of(made.content)
    _, rows = files(job)
    assert (rows[0]["rigged_filters"], rows[0]["rigged_residual_mired"]) == ("a blue curtain", "")
    assert rows[0]["filters"] == "half CTO"


def test_times_without_an_offset_and_another_balance_are_told(rich: Job, tmp_path: Path) -> None:
    pdf, _ = colourist.made(rich)
    assert [each.where.split(", ")[1:] for each in pdf.problems] == [
        ['setup "first evening"', 'light "rope bench Fresnel".read.time']
    ]
    path = jobs.rich_plan(tmp_path)
    text = path.read_text("utf-8").replace("balance_k = 4300", "balance_k = 4100")
    path.write_text(text, "utf-8")
    job = jobs.made_job(path)
    made = colourist.made(job)[0]
    assert any("keeps the balance 4100 K" in each.message for each in made.problems)
    assert "Kept in the set-up 4100 K" in text_of(made.content)
    _, rows = files(job)
    told = float(rows[0]["read_residual_mired"])
    assert told == pytest.approx(1e6 / 4690 - (1e6 / 4100 - 20), abs=0.002)


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_as_it_looked(rich: Job, paper: Paper, size_mm: tuple[float, float], keep: bool) -> None:
    pdf, _ = files(jobs.made_job(rich.path, paper=paper))
    assert_accessible(pdf, title="For the colourist: Rope loft, two evenings")
    assert set(sizes_mm(pdf)) == {size_mm}
    assert_like_snapshot(f"colourist-{paper}", pdf, keep=keep)


def test_the_same_bytes_twice(rich: Job) -> None:
    assert [each.content for each in colourist.made(rich)] == [
        each.content for each in colourist.made(rich)
    ]


def test_names_of_every_kind(tmp_path: Path) -> None:
    job = jobs.made_job(jobs.named_plan(tmp_path))
    pdf, rows = files(job)
    assert_margins(pdf)
    assert [each["light"] for each in rows] == [*jobs.NAMES[:-1], "'=1+1"]


@pytest.mark.parametrize("name", ["large_plan", "bare_plan"])
def test_large_and_empty_plans(tmp_path: Path, name: str) -> None:
    job = jobs.made_job(getattr(jobs, name)(tmp_path))
    pdf, rows = files(job)
    assert len(rows) == len(job.parts[0].loaded.plan.light)
    assert_margins(pdf)
    assert ("The plan has no light yet." in text_of(pdf)) == (not rows)


def test_cells_that_a_spreadsheet_would_run() -> None:
    """Texts get an apostrophe, numbers stay numbers; commas, quotes and lines come back whole."""
    texts = ["=1+1", "+1", "-1", "@a", "\tx", "\rx", 'a "b", c\r\nd', "", "plain", "'as is"]
    table = csv_bytes(["text", "value"], [{"text": each, "value": -1.5} for each in texts])
    rows = list(csv.DictReader(io.StringIO(table.decode("utf-8"), newline="")))
    assert [each["text"] for each in rows] == [*(f"'{each}" for each in texts[:6]), *texts[6:]]
    assert all(float(each["value"]) == -1.5 for each in rows)
    assert csv_bytes(["a", "b", "c"], [{"a": None, "b": True}]) == b"a,b,c\r\n,true,\r\n"
    with pytest.raises(ValueError, match="no column"):
        csv_bytes(["a"], [{"b": 1}])
