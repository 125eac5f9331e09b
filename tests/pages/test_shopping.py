"""What is packed and bought: read back from the PDF and the CSV, held against kit and cutting."""

from __future__ import annotations

import csv
import io
import tomllib
from pathlib import Path

import pytest

from evencast.actions.handouts import shopping
from evencast.actions.handouts.cuts import cuts, owned
from evencast.actions.handouts.job import Job
from evencast.cutting import Piece, StockItem, fits
from evencast.handouts.colourist import COLUMNS as COLOURIST
from evencast.handouts.shopping import COLUMNS
from evencast.handouts.typeset import Paper
from tests.pages import list_jobs as jobs
from tests.pages.reading import assert_accessible, assert_like_snapshot, sizes_mm, text_of
from tests.pages.test_panes import assert_margins

Rows = list[dict[str, str]]


@pytest.fixture(scope="module")
def rich(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return jobs.made_job(jobs.rich_plan(tmp_path_factory.mktemp("rich")))


def files(job: Job) -> tuple[bytes, Rows]:
    pdf, table = shopping.made(job)
    assert (pdf.name, table.name) == ("shopping.pdf", "shopping.csv")
    text = table.content.decode("utf-8")
    return pdf.content, list(csv.DictReader(io.StringIO(text, newline="")))


def of(rows: Rows, section: str, item: str = "") -> Rows:
    return [each for each in rows if each["section"] == section and item in each["item"]]


def item_of(row: dict[str, str]) -> StockItem:
    return StockItem(float(row["width_mm"]), float(row["length_mm"]), int(row["count"]))


def test_what_is_packed_is_in_the_kit_and_holds_the_pieces(rich: Job) -> None:
    """Every entry by its id and size in the kit's document, never more of it than it counts; and
    what is packed yields all pieces of all set-ups."""
    _, rows = files(rich)
    assert tuple(rows[0]) == COLUMNS
    kit = tomllib.loads((rich.path.parent / "kit.toml").read_text("utf-8"))
    for entry in kit["filter"]:
        mine = [each for each in of(rows, "pack", entry["name"]) if each["form"]]
        packed = []
        for row in mine:
            (stock,) = [each for each in entry["stock"] if each.get("id", "") == row["stock_id"]]
            assert row["form"] == stock["form"]
            assert int(row["count"]) <= stock["count"]
            packed.append(item_of(row))
        packed += [item_of(row) for row in of(rows, "buy", entry["name"])]
        pieces = [
            each.cut.piece
            for each in owned(rich)
            if each.cut.filter == entry["name"] and each.cut.piece
            for _ in range(each.count)
        ]
        assert fits(pieces, packed)
        assert bool(pieces) == bool(packed)


def test_sheets_for_panes_in_strips(rich: Job) -> None:
    """Two panes of 1150 x 1550 in four strips each, one a sheet of 530; five of 450 x 950, one a
    sheet: 13 sheets. From the roll all seven."""
    pdf, rows = files(rich)
    (sheets,) = of(rows, "pack", "half CTO")
    assert (sheets["count"], sheets["unit"], sheets["stock_id"]) == ("13", "sheets", "O3")
    assert "8 strips of 1150 × 406 mm for 1150 × 1550 mm (1a)" in sheets["used_for"]
    assert "5 of 450 × 950 mm (1b)" in sheets["used_for"]
    (roll,) = of(rows, "pack", "quarter CTO")
    assert (roll["count"], roll["unit"]) == ("1", "roll")
    text = text_of(pdf)
    for row in rows:
        assert f"{row['count']} {row['unit']}".strip() in text
        assert row["item"] in text
        assert row["used_for"] in text


def test_what_is_short_is_bought(rich: Job) -> None:
    """Frost of which the kit counts none: four pieces out of one sheet."""
    pdf, rows = files(rich)
    (frost,) = of(rows, "buy")
    assert (frost["item"], frost["count"], frost["unit"]) == ("light frost", "1", "sheet")
    assert fits([Piece(170, 170)] * 2 + [Piece(260, 260)] * 2, [StockItem(530, 1220)])
    text = text_of(pdf)
    assert "To buy" in text
    assert "Return by" in text


def test_pieces_are_used_again(rich: Job) -> None:
    """Per filter the most that hang at one time, and what is cut in all."""
    pdf, _ = files(rich)
    first, second = cuts(rich)
    for name in ("half CTO", "quarter CTO", "half CTB", "light frost"):
        in_each = [sum(c.count for c in mine if c.filter == name) for mine in (first, second)]
        in_all = sum(each.count for each in owned(rich) if each.cut.filter == name)
        assert f"{name} {in_each[0]} {in_each[1]} {max(in_each)} {in_all}" in text_of(pdf)
    assert max(len(each.setups) for each in owned(rich)) == 2  # the hoist lamp's piece


def test_two_set_ups_that_fit_in_turn(tmp_path: Path) -> None:
    """One sheet gives 21 frames of 170, or 8 of 260; both at once it does not."""
    sheet = "{ id = 'B3', form = 'sheet', width_mm = 530, length_mm = 1220, count = 1 }"
    kit = (
        'format = 1\nname = "one"\n[[filter]]\nname = "my blue"\nrole = "correction"\n'
        f'generic = "full CTB"\nstock = [{sheet}]\n'
    )
    lamp = (
        '[[light]]\nname = "bank"\nrole = "key"\nbuiltin = "tungsten 3200 K"\nkind = "tungsten"\n'
        'moves = ["filter"]\ncount = 8\naperture = [{ width_mm = 170, height_mm = 170, count = 2 }]'
    )
    path = jobs.bare_plan(tmp_path, lights=lamp + "\n[weights]\npieces = 0\nminutes = 0\n")
    setups = (
        '[[setup]]\nname = "small"\n[[setup]]\nname = "wide"\n'
        'light = [{ name = "bank", aperture = [{ width_mm = 250, height_mm = 250 }] }]\n'
    )
    path.write_text(path.read_text("utf-8") + setups, "utf-8")
    (tmp_path / "kit.toml").write_text(kit, "utf-8")
    _, rows = files(jobs.made_job(path))
    (buy,) = of(rows, "buy")
    assert (buy["item"], buy["count"]) == ("full CTB", "1")  # its generic name
    assert "each set-up alone comes out of the stock" in buy["note"]
    assert of(rows, "pack")[0]["item"] == "my blue"


def test_spares_of_what_burns_alone(rich: Job) -> None:
    pdf, rows = files(rich)
    assert {each["item"] for each in of(rows, "spare")} == {"half CTB", "light frost"}
    assert all(each["note"].startswith("1 to 2") for each in of(rows, "spare"))
    assert "common practice" in text_of(pdf)


def test_bulbs_that_are_swapped(tmp_path: Path) -> None:
    lights = (
        '[[light]]\nname = "stairs"\nrole = "background"\nbuiltin = "LED phosphor 2700 K B1"\n'
        'moves = ["swap"]\ncount = 3\n'
        'swap = [{ name = "day bulb", builtin = "LED phosphor 5100 K B4", at_hand = 4 }]\n'
    )
    pdf, rows = files(jobs.made_job(jobs.bare_plan(tmp_path, lights=lights)))
    (bulbs,) = of(rows, "swap")
    assert (bulbs["item"], bulbs["count"], bulbs["used_for"]) == ("day bulb", "3", "stairs")
    assert "4 at hand" in bulbs["note"]
    assert "No sheet is to be cut in this plan." in text_of(pdf)


def test_sheets_that_nobody_counts(tmp_path: Path) -> None:
    path = jobs.rich_plan(tmp_path)
    kit = (tmp_path / "kit.toml").read_text("utf-8")
    start = kit.index('name = "half CTO"')
    stock = kit.index("stock", start)
    (tmp_path / "kit.toml").write_text(kit[:stock] + kit[kit.index("\n", stock) :], "utf-8")
    _, rows = files(jobs.made_job(path))
    found = of(rows, "pack", "half CTO")
    assert sum(int(each["count"]) for each in found) == 7
    assert {each["note"] for each in found} == {"the kit does not count it: look what there is"}


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_as_it_looked(rich: Job, paper: Paper, size_mm: tuple[float, float], keep: bool) -> None:
    pdf, _ = files(jobs.made_job(rich.path, paper=paper))
    assert_accessible(pdf, title="Packing and shopping: Rope loft, two evenings")
    assert set(sizes_mm(pdf)) == {size_mm}
    assert_like_snapshot(f"shopping-{paper}", pdf, keep=keep)


def test_the_same_bytes_twice(rich: Job) -> None:
    assert [each.content for each in shopping.made(rich)] == [
        each.content for each in shopping.made(rich)
    ]


@pytest.mark.parametrize("name", ["named_plan", "large_plan", "bare_plan"])
def test_every_kind_of_plan(tmp_path: Path, name: str) -> None:
    job = jobs.made_job(getattr(jobs, name)(tmp_path))
    pdf, rows = files(job)
    assert_margins(pdf)
    assert bool(of(rows, "pack")) == (name != "bare_plan")
    if name == "large_plan":
        found = [each for each in of(rows, "pack") if "200 of 350 × 450 mm" in each["used_for"]]
        (glass,) = found
        # strips along the roll: one of 450 holds 21 of 350, two of 350 hold 16 of 450 each, 1150
        # of 1220 mm in all: 53 a roll, and 200 take four
        assert glass["count"] == "4"


def test_every_column_is_documented() -> None:
    page = (Path(__file__).parents[2] / "docs" / "hand-outs.md").read_text("utf-8")
    for name in (*COLUMNS, *COLOURIST):
        assert f"`{name}`" in page, name
