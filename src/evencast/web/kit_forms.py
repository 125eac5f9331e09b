"""Forms of the kit page: what they hold, and the keys of a kit that it stands for."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from evencast.actions.editing.declared import colour_of, kelvin_of
from evencast.errors import EvencastError
from evencast.filters import generic
from evencast.spectra import read_spectrum

ILLUMINANTS = ("A", "D65", "D50")


class NewFilter(BaseModel):
    """A filter as the forms hold it: one of the ways that it is known, and what there is of it.

    kelvin : from_k, to_k and stops
    xyy    : a_x, a_y and a_percent under illuminant A, and the same under D65 and D50
    """

    model_config = ConfigDict(str_strip_whitespace=True)

    way: Literal["generic", "kelvin", "xyy", "spectrum"]
    based_on: int = Field(ge=1, le=2**31)
    plan: int | None = None
    name: str = Field(default="", max_length=200)
    role: str = Field(default="correction", max_length=40)
    series: str = Field(default="", max_length=200)
    note: str = Field(default="", max_length=2000)
    generic: str = Field(default="", max_length=200)
    spectrum: str = Field(default="", max_length=400)
    from_k: str = Field(default="", max_length=40)
    to_k: str = Field(default="", max_length=40)
    stops: str = Field(default="", max_length=40)
    a_x: str = Field(default="", max_length=40)
    a_y: str = Field(default="", max_length=40)
    a_percent: str = Field(default="", max_length=40)
    d65_x: str = Field(default="", max_length=40)
    d65_y: str = Field(default="", max_length=40)
    d65_percent: str = Field(default="", max_length=40)
    d50_x: str = Field(default="", max_length=40)
    d50_y: str = Field(default="", max_length=40)
    d50_percent: str = Field(default="", max_length=40)
    form: str = Field(default="sheet", max_length=40)
    width: str = Field(default="", max_length=40)
    length: str = Field(default="", max_length=40)
    count: str = Field(default="", max_length=40)


def keys_of(new: NewFilter) -> dict[str, object]:
    """Of the filter as a kit has them."""
    name = new.name or new.generic
    if not name:
        raise EvencastError(
            "it has no name", where="the new filter", remedy="Say what it is called."
        )
    keys: dict[str, object] = {"name": name, "role": new.role, "series": new.series}
    where = f'filter "{name}"'
    if new.way == "generic":
        each = generic(new.generic)
        keys |= {"role": each.role, "series": each.series, "generic": each.name}
    elif new.way == "spectrum":
        keys["spectrum"] = new.spectrum
    elif new.way == "kelvin":
        fields = {"from_k": new.from_k, "to_k": new.to_k, "stops": new.stops}
        keys["kelvin"] = kelvin_of(fields, where=where)
    else:
        keys["xyy"] = _colours(new, where)
    return keys | ({"note": new.note} if new.note else {})


def _colours(new: NewFilter, where: str) -> list[dict[str, object]]:
    """What is printed under each illuminant; a row left empty was not printed."""
    found = []
    for under in ILLUMINANTS:
        fields = {
            "x": getattr(new, f"{under.casefold()}_x"),
            "y": getattr(new, f"{under.casefold()}_y"),
            "Y_percent": getattr(new, f"{under.casefold()}_percent"),
        }
        if any(fields.values()):
            found.append(colour_of({"illuminant": under, **fields}, where=f"{where}, {under}"))
    if not found:
        raise EvencastError(
            "no colour is given", where=where, remedy="Write x, y and Y under at least one light."
        )
    return found


def check_spectrum(content: bytes, name: str) -> None:
    """Raises EvencastError for what is no transmittance, before anything is kept."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise EvencastError(
            "is no text", where=name, remedy="Export the spectrum as CSV or IES TM-27 (.spdx)."
        ) from None
    read_spectrum(text, quantity="transmittance", where=name)


def stock_of(form: str, width: str, length: str, count: str) -> dict[str, str]:
    """Pieces of one size as a kit has them; a length without a unit is in millimetres."""
    return {"form": form, "width_mm": width, "length_mm": length, "count": count or "1"}
