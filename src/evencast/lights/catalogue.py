"""The built-in lights: published spectra under plain names."""

from __future__ import annotations

from functools import cache
from typing import cast

import numpy as np

from evencast import tables
from evencast.colour import white
from evencast.errors import EvencastError, nearest
from evencast.lights.light import Fitting, Light
from evencast.quantities import Floats
from evencast.spectra import on_grid


def builtin_names() -> list[str]:
    """Names of the built-in lights in catalogue order."""
    return [row["name"] for row in _rows()]


def builtin(name: str) -> Light:
    """The built-in light of that name or short name, upper or lower case.

    Raises  EvencastError naming the nearest ones
    """
    row = _by_name().get(" ".join(name.casefold().split()))
    if row is None:
        close = nearest(name, builtin_names_and_aliases())
        raise EvencastError(
            f'no light is called "{name}"',
            where="lights",
            remedy=(f"Did you mean {' or '.join(close)}? " if close else "")
            + "`evencast lights` lists them. Accepted too: 3200K, 5400K+0.0065, "
            '"tungsten -1stop", or a file such as ./lamp.csv.',
        )
    emitters = tuple(_power(row["table"], column) for column in row["column"].split("+"))
    return Light(
        name=row["name"],
        kind=row["kind"],
        power=np.sum(emitters, axis=0),
        fitting=cast(Fitting, row["fitting"]),
        note=row["note"],
        emitters=emitters if len(emitters) > 1 else (),
    )


def _power(table_name: str, column: str) -> Floats:
    """A spectrum on the grid; the table "white" holds the white of every Kelvin."""
    if table_name == "white":
        return white(float(column))
    table = tables.read(table_name)
    power = on_grid(table.column("wavelength_nm"), table.column(column))
    return np.asarray(power / power.max())


def builtin_names_and_aliases() -> list[str]:
    """Every name that `builtin` takes."""
    return builtin_names() + [each for row in _rows() for each in _short_names(row)]


def aliases(name: str) -> list[str]:
    """Short names of a built-in light."""
    return _short_names(_by_name()[name.casefold()])


@cache
def _rows() -> list[dict[str, str]]:
    return tables.read_rows("lights")


@cache
def _by_name() -> dict[str, dict[str, str]]:
    named = {row["name"].casefold(): row for row in _rows()}
    short = {each.casefold(): row for row in _rows() for each in _short_names(row)}
    return short | named


def _short_names(row: dict[str, str]) -> list[str]:
    return [each.strip() for each in row["aliases"].split(";") if each.strip()]
