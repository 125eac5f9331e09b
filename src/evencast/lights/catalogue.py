"""The built-in lights: published spectra under plain names."""

from __future__ import annotations

from functools import cache
from typing import cast

import numpy as np

from evencast import tables
from evencast.colour import white
from evencast.errors import EvencastError, nearest
from evencast.lights.kinds import REFUSED_KINDS, kind_meant, kinds_in
from evencast.lights.light import Fitting, Light, LightKind
from evencast.quantities import Floats
from evencast.spectra import Spectrum


def builtin_names() -> list[str]:
    """Names of the built-in lights in catalogue order."""
    return [row["name"] for row in _rows()]


def builtin(name: str, *, kind: LightKind = "unknown") -> Light:
    """The built-in light of that name or short name, upper or lower case.

    kind : what the person says it is; the light keeps its own
    Raises  EvencastError naming the nearest ones, and where the light is of another kind
    """
    row = _by_name().get(" ".join(name.casefold().split()))
    if row is None:
        close = nearest(name, builtin_names_and_aliases())
        raise EvencastError(
            f'no light is called "{name}"',
            where="lights",
            remedy=(f"Did you mean {' or '.join(close)}? " if close else "")
            + _say_kind(name)
            + "`evencast lights` lists them. Accepted too: 3200K, 5400K+0.0065, "
            '"camera 5200K", "camera 5200K 4 toward magenta", "tungsten -1stop", or a file '
            "such as ./lamp.csv.",
        )
    if kind != "unknown" and row["kind"] not in kinds_in(kind):
        raise EvencastError(
            f"{row['name']} is of the kind {row['kind']}, not {kind}",
            where="kind",
            remedy="Leave the kind out, or give the light by its reading or its spectrum.",
        )
    return _built(row["name"])


def kind_and_fitting(name: str) -> tuple[str, str] | None:
    """What a built-in light is and what it sits in; None where no light has that name."""
    row = _by_name().get(" ".join(name.casefold().split()))
    return (row["kind"], row["fitting"]) if row else None


def builtin_of_kind(kind: str) -> list[Light]:
    """The built-in lights of a kind, in catalogue order."""
    return [_built(row["name"]) for row in _rows() if row["kind"] == kind]


@cache
def _built(name: str) -> Light:
    row = _by_name()[name.casefold()]
    emitters = [_emitter(row["table"], column) for column in row["column"].split("+")]
    powers = tuple(power for power, _ in emitters)
    return Light(
        name=row["name"],
        kind=row["kind"],
        power=np.sum(powers, axis=0),
        fitting=cast(Fitting, row["fitting"]),
        note=row["note"],
        spectrum=emitters[0][1] if len(emitters) == 1 else None,
        emitters=powers if len(powers) > 1 else (),
    )


def _emitter(table_name: str, column: str) -> tuple[Floats, Spectrum | None]:
    """Power on the grid, peak 1, and the samples; the table "white" holds whites by Kelvin."""
    if table_name == "white":
        return white(float(column)), None
    table = tables.read(table_name)
    spectrum = Spectrum(table.column("wavelength_nm"), table.column(column))
    return np.asarray(spectrum.grid / spectrum.grid.max()), spectrum


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


def _say_kind(name: str) -> str:
    """What to write where a kind of lamp was named in place of a lamp."""
    kind = kind_meant(name)
    if kind is None or kind == "unknown" or kind in REFUSED_KINDS:
        return ""
    return f"That is a kind of lamp: read yours, and write 5600K+0.003 with the kind {kind}. "
