"""`lights`, `filters`, `looks`, `schema`, `where`: what is built in and where things are."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from evencast import __version__
from evencast.actions.cautions import look_cautions
from evencast.actions.kit import every_generic, load_kit
from evencast.actions.reading import reading, rounded
from evencast.colour import white, xyz
from evencast.filters import Filter
from evencast.filters.dyes import shift_duv, shift_mired
from evencast.lights import aliases, builtin, builtin_names
from evencast.lights.looks import Look, look, look_names
from evencast.quantities import stops_of_ratio
from evencast.results.catalogue import CatalogueFilter, CatalogueLight, CatalogueLook, Places


def lights() -> dict[str, list[CatalogueLight]]:
    """Every built-in light."""
    found = []
    for name in builtin_names():
        light = builtin(name)
        found.append(CatalogueLight(name, aliases(name), reading(light), light.fitting, light.note))
    return {"lights": found}


def filters(kit: Path | None) -> dict[str, list[CatalogueFilter]]:
    """Every generic filter, or those of a kit, stated on the white it is usually named for."""
    loaded = load_kit(kit) if kit else every_generic()
    return {"filters": [_stated(each) for each in loaded.filters]}


def looks() -> dict[str, list[CatalogueLook]]:
    """Every look."""
    return {"looks": [_described(look(name)) for name in look_names()]}


def schema(document: str | None) -> dict[str, Any]:
    """The JSON Schemas by document name, or the one asked for."""
    from evencast.plan.schema import schemas  # loads pydantic

    every = schemas()
    return every if document is None else every[document]


def where() -> Places:
    """The version, the program, and the person's own places."""
    from evencast.store.places import library_place, log_file, shown_place

    return Places(
        version=__version__,
        program=f"{Path(__file__).resolve().parent.parent} (Python {sys.version.split()[0]})",
        library=shown_place(library_place()),
        log=str(log_file()),
    )


def _described(each: Look) -> CatalogueLook:
    return CatalogueLook(
        name=each.name,
        mired=each.mired,
        mired_range=each.mired_ends,
        duv=round(each.duv, 6),
        duv_range=each.duv_ends,
        stops=each.stops,
        stops_range=each.stops_ends,
        how=each.how,
        note=each.note,
        cautions=look_cautions(each),
    )


def _stated(each: Filter) -> CatalogueFilter:
    power = white(each.on_k)
    ratio = float(xyz(power * each.transmittance)[1] / xyz(power)[1])
    return CatalogueFilter(
        name=each.name,
        role=each.role,
        series=each.series,
        on_k=each.on_k,
        shift_mired=rounded(float(shift_mired(power, each.transmittance)), 2),
        shift_duv=rounded(float(shift_duv(power, each.transmittance)), 5),
        loss_stops=round(stops_of_ratio(ratio), 3),
        loss_range_stops=each.loss_range_stops,
        measured=each.measured,
        note=each.note,
    )
