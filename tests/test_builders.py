"""Each builder makes the packaged table again, byte for byte."""

from __future__ import annotations

import numpy as np
import pytest

from evencast import tables
from tests.oracle import colour

assert colour.__version__ == "0.4.7", "the tables are built from this version of the library"

from builders import (  # noqa: E402 - after the library
    cameras,
    colour_samples,
    fonts,
    illuminants,
    lamps,
    observers,
    table,
)

BUILT = (
    cameras.build()
    | colour_samples.build()
    | fonts.build()
    | illuminants.build()
    | lamps.build()
    | observers.build()
)
FOR_TESTS = cameras.build_for_tests()


@pytest.mark.parametrize("name", BUILT)
def test_packaged_table_is_what_its_builder_makes(name: str) -> None:
    assert (table.DATA / f"{name}.csv").read_bytes() == BUILT[name].encode("utf-8")


@pytest.mark.parametrize("name", FOR_TESTS)
def test_table_for_tests_is_what_its_builder_makes(name: str) -> None:
    assert (cameras.TESTS / f"{name}.csv").read_bytes() == FOR_TESTS[name].encode("utf-8")


def test_every_numeric_table_has_a_builder() -> None:
    by_hand = {"dye_sets", "filter_families", "lights", "looks"}
    assert set(BUILT) == set(tables.names()) - by_hand


@pytest.mark.parametrize("name", BUILT)
def test_digest_in_the_header_is_of_the_packaged_values(name: str) -> None:
    written = tables.header(name)["obtained"].rpartition(" ")[2]
    assert written == table.digest(tables.read(name).values)


def test_numbers_are_written_with_the_fewest_digits_that_read_back() -> None:
    values = np.array([[380.0, 0.1 + 0.2], [385.0, 6.24333404578940e-06]])
    text = table.table_text({"title": "x"}, ["wavelength_nm", "lamp"], values)
    assert text == (
        "# title: x\nwavelength_nm,lamp\n380,0.30000000000000004\n385,0.0000062433340457894\n"
    )
