"""The packaged tables: provenance, sane values, unique names."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from evencast import lights, tables
from evencast.errors import EvencastError
from evencast.filters import generic, generic_names

TEXT_TABLES = ("dye_sets", "filter_families", "lights", "looks")
NUMERIC = [name for name in tables.names() if name not in (*TEXT_TABLES, "font_coverage")]
UNCHECKED_TABLES = 2
"""Tables with a number that is common practice or remembered: the generic filters and the looks,
which are habits and no measurements. It may only fall."""

GOOD = """\
# title: Two samples
# source: invented for this test
# licence: BSD-3-Clause
# obtained: 2026-11-25 by hand
# quantity: unit 1
# changed: nothing
# checked: tests/test_tables.py
wavelength_nm,lamp
400,1
405,2.5
"""


def without(*keys: str) -> str:
    """The good table lacking these lines of its header."""
    dropped = tuple(f"# {key}:" for key in keys)
    return "".join(line for line in GOOD.splitlines(True) if not line.startswith(dropped))


def test_a_good_table_is_read() -> None:
    table = tables.parse("invented", GOOD)
    assert table.columns == ("wavelength_nm", "lamp")
    assert table.column("lamp").tolist() == [1.0, 2.5]
    assert table.header["source"] == "invented for this test"
    assert not table.values.flags.writeable


@pytest.mark.parametrize(
    ("text", "lacks"),
    [
        (without("source"), "source"),
        (without("licence"), "licence"),
        (without("source", "licence"), "source, licence"),
        (GOOD.replace("invented for this test", ""), "source"),
        (GOOD.replace("BSD-3-Clause", "  "), "licence"),
        (GOOD[GOOD.index("wavelength_nm") :], ", ".join(tables.REQUIRED)),
    ],
    ids=["no source", "no licence", "neither", "empty source", "blank licence", "no header"],
)
def test_a_table_without_provenance_is_refused(text: str, lacks: str) -> None:
    with pytest.raises(EvencastError) as raised:
        tables.parse("invented", text)
    assert str(raised.value) == (
        f"table invented: the header lacks {lacks}\n"
        "Give every one of: title, source, licence, obtained, quantity, changed, checked."
    )


def test_every_packaged_table_is_known_here() -> None:
    assert set(TEXT_TABLES) < set(tables.names())
    assert len(NUMERIC) == 19


@pytest.mark.parametrize("name", tables.names())
def test_header_is_full_and_names_a_test_that_exists(
    name: str, pytestconfig: pytest.Config
) -> None:
    header = tables.header(name)
    assert all(header[key] for key in tables.REQUIRED)
    assert (pytestconfig.rootpath / header["checked"]).is_file()
    builder = header["obtained"].partition(" by ")[2].partition(",")[0]
    assert builder == "hand" or (pytestconfig.rootpath / builder).is_file()


@pytest.mark.parametrize("name", NUMERIC)
def test_values_are_finite_and_wavelengths_rise(name: str) -> None:
    table = tables.read(name)
    assert table.columns[0] == "wavelength_nm"
    assert len(set(table.columns)) == len(table.columns) == table.values.shape[1]
    assert np.isfinite(table.values).all()
    assert (np.diff(table.column("wavelength_nm")) > 0).all()
    if name != "cie_daylight_components":  # two of its components are differences
        assert (table.values > -1e-15).all()  # 19 published reflectances are -2e-16


def test_no_two_lamps_are_the_same() -> None:
    """Compared by shape, so that the same lamp at another scale is found too."""
    seen: dict[bytes, str] = {}
    for name in NUMERIC:
        if name.startswith(("cie_illuminants", "lamps")):
            table = tables.read(name)
            for column in table.columns[1:]:
                values = table.column(column)
                shape = np.round(values / values.max(), 6).tobytes()
                assert shape not in seen, f"{name} {column} is {seen[shape]}"
                seen[shape] = f"{name} {column}"
    assert len(seen) == 46 + 43


def test_every_light_of_the_index_builds() -> None:
    for row in tables.read_rows("lights"):
        light = lights.builtin(row["name"])
        assert (light.name, light.kind, light.fitting) == (row["name"], row["kind"], row["fitting"])
        assert light.power.shape == (81,)
        assert np.isfinite(light.power).all()
        assert light.power.min() >= 0 < light.power.max()
        for alias in lights.aliases(row["name"]):
            assert lights.builtin(alias.upper()).name == row["name"]


def test_every_spectrum_has_its_light() -> None:
    """A measured lamp that no name leads to would be dead weight."""
    used = {
        (row["table"], column)
        for row in tables.read_rows("lights")
        for column in row["column"].split("+")
    }
    for name in NUMERIC:
        if name.startswith(("cie_illuminants", "lamps")):
            missing = [c for c in tables.read(name).columns[1:] if (name, c) not in used]
            assert not missing, name


def test_names_and_short_names_of_lights_are_unique() -> None:
    names = Counter(name.casefold() for name in lights.builtin_names_and_aliases())
    assert [name for name, count in names.items() if count > 1] == []


def test_names_of_filters_are_unique_and_every_filter_builds() -> None:
    names = Counter(name.casefold() for name in generic_names())
    assert [name for name, count in names.items() if count > 1] == []
    for name in generic_names():
        transmittance = generic(name).transmittance
        assert transmittance.shape == (81,)
        assert transmittance.min() >= 0
        assert transmittance.max() <= 1


def test_no_name_looks_like_a_file() -> None:
    """A name with a / or ending in .csv is taken for a file on the command line."""
    for name in [*lights.builtin_names_and_aliases(), *generic_names()]:
        assert "/" not in name
        assert not name.casefold().endswith(".csv")


def test_tables_with_unchecked_values_only_get_fewer() -> None:
    words = ("common practice", "from memory")
    unchecked = [n for n in tables.names() if any(w in tables.header(n)["source"] for w in words)]
    assert len(unchecked) == UNCHECKED_TABLES, unchecked


@pytest.mark.parametrize("name", TEXT_TABLES)
def test_every_row_of_a_text_table_fills_its_columns(name: str) -> None:
    """A comma in an unquoted note would cut it there, and nothing would say so."""
    for row in tables.read_rows(name):
        assert None not in row, (name, row)
        assert None not in row.values(), (name, row)
