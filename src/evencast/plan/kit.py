"""The kit document: the filters and stock at hand, and what is known of each."""

from __future__ import annotations

import datetime
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field, model_validator

from evencast.colour.whites import Locus
from evencast.filters.filter import Role as FilterRole
from evencast.plan.digits import rounding_k, rounding_last_digit, rounding_stops
from evencast.plan.part import (
    Duv,
    Kelvin,
    Many,
    NotNegative,
    OneOf,
    Part,
    Positive,
    Text,
    fault,
)

Illuminant = Literal["A", "D50", "D55", "D65", "D75", "E"]


def date_text(value: object) -> object:
    """A date as text, whether quoted in the document or not."""
    return value.isoformat() if isinstance(value, datetime.date) else value


class KelvinNumbers(Part):
    """What is printed for a sheet: it turns light of one colour temperature into another."""

    one_of: ClassVar = (OneOf((("to_locus",), ("duv",)), needed=False),)

    from_k: Kelvin = Field(
        description="Colour temperature of the light it is declared for, in kelvin.",
        examples=[3200],
    )
    to_k: Kelvin = Field(
        description="Colour temperature of that light through the sheet, in kelvin.",
        examples=[5600],
    )
    stops: NotNegative = Field(
        description="Light it costs, in stops; 0.33, 0.67 and 1.3 are read as thirds.",
        examples=[1.67],
    )
    from_locus: Locus | None = Field(
        default=None,
        description="What `from_k` lies on: planckian, daylight, or the blend between. Left "
        "out: planckian below 4000 K, daylight above 5000 K, else blend.",
        examples=["planckian"],
    )
    to_locus: Locus | None = Field(
        default=None,
        description="What `to_k` lies on; left out, as with `from_locus`.",
        examples=["daylight"],
    )
    duv: Duv | None = Field(
        default=None,
        description="Duv of that light through the sheet, positive is greener; in place of "
        "`to_locus`.",
        examples=[0.002],
    )
    rounding_k: NotNegative | None = Field(
        default=None,
        description="How far the real value may lie from `to_k`, in kelvin. Left out: half the "
        "last printed step, so 5600 gives 50, 5550 gives 25 and 5560 gives 5.",
        examples=[50],
    )
    rounding_stops: NotNegative | None = Field(
        default=None,
        description="How far the real loss may lie from `stops`, in stops. Left out: 1/6 for "
        "thirds and whole stops, else half a unit of the last written digit.",
        examples=[0.17],
    )

    @classmethod
    def completed(cls, data: dict[str, Any]) -> dict[str, Any]:
        """Roundings that are not given are read from the written digits."""
        read = {
            "rounding_k": rounding_k(data.get("to_k")),
            "rounding_stops": rounding_stops(data.get("stops")),
        }
        return read | data


class ColourNumbers(Part):
    """Printed chromaticity and transmittance of a sheet under one standard illuminant."""

    illuminant: Illuminant = Field(
        description="The standard illuminant the numbers are printed for; A and D65 together "
        "say most.",
        examples=["A"],
    )
    x: Annotated[float, Field(gt=0, lt=1)] = Field(
        description="CIE 1931 chromaticity x of the light through the sheet.", examples=[0.3127]
    )
    y: Annotated[float, Field(gt=0, lt=1)] = Field(
        description="CIE 1931 chromaticity y of the light through the sheet.", examples=[0.3290]
    )
    Y_percent: Annotated[float, Field(ge=0.0001, le=100)] = Field(
        description="Light that gets through, in percent.", examples=[31.5]
    )
    rounding_xy: NotNegative | None = Field(
        default=None,
        description="How far the real x and y may lie from those printed. Left out: half a "
        "unit of the last digit written for x or y, whichever is finer.",
        examples=[0.0005],
    )
    rounding_Y_percent: NotNegative | None = Field(  # noqa: N815 - Y is the CIE's capital
        default=None,
        description="How far the real percentage may lie from `Y_percent`. Left out: half a "
        "unit of the last written digit.",
        examples=[0.05],
    )

    @classmethod
    def completed(cls, data: dict[str, Any]) -> dict[str, Any]:
        """Roundings that are not given are read from the written digits.

        A final 0 that was not written cannot be told, so the finer of x and y counts.
        """
        steps = [rounding_last_digit(data.get(key)) for key in ("x", "y")]
        read = {
            "rounding_xy": min((step for step in steps if step is not None), default=None),
            "rounding_Y_percent": rounding_last_digit(data.get("Y_percent")),
        }
        return read | data

    @model_validator(mode="after")
    def _is_a_colour(self) -> ColourNumbers:
        if self.x + self.y > 1:
            raise fault(
                f"x {self.x:g} and y {self.y:g} add up to more than 1, which no colour does",
                remedy="Check both numbers, and that x, y and not u, v were copied.",
            )
        return self


class Stock(Part):
    """Pieces at hand of a filter, all of one size."""

    id: Text | None = Field(
        default=None,
        description="What is written on the piece or its pouch; unique in the kit.",
        examples=["B-04"],
    )
    form: Literal["sheet", "roll", "offcut"] = Field(
        description="Whether it is a sheet, a roll or an offcut.", examples=["sheet"]
    )
    width_mm: Positive = Field(
        description="Width of one piece, with its unit in the key.", examples=[530]
    )
    length_mm: Positive = Field(
        description="Length of one piece, with its unit in the key.", examples=[1220]
    )
    count: Annotated[int, Field(ge=0)] = Field(
        default=1, description="How many such pieces there are.", examples=[2]
    )


class Evidence(Part):
    """Something once measured or printed about a filter, or a test frame taken through it."""

    date: Annotated[Text, BeforeValidator(date_text)] | None = Field(
        default=None, description="When, as year-month-day.", examples=["2031-05-04"]
    )
    kind: Text | None = Field(
        default=None,
        description="What it is: a meter reading, a data sheet. A `frame` is a photograph that "
        "`evencast card` shows beside the computed pictures.",
        examples=["frame"],
    )
    file: Text | None = Field(
        default=None,
        description="Where it is kept, relative to the kit; of a frame a PNG, JPEG or TIFF.",
        examples=["frames/half-ctb-5600.jpg"],
    )
    state: Literal["bare", "filtered"] | None = Field(
        default=None,
        description="Of a frame: the light without the sheet, or through it.",
        examples=["filtered"],
    )
    balance_k: Kelvin | None = Field(
        default=None,
        description="Of a frame: the camera's white balance, in kelvin.",
        examples=[5600],
    )
    light: Text | None = Field(
        default=None,
        description="Of a frame: the light it was taken under, in your words. Left out: the "
        "lamp the filter is meant for.",
        examples=["the 650 W Fresnel"],
    )


class KitFilter(Part):
    """A filter of the kit, and how its colour is known."""

    one_of: ClassVar = (OneOf((("generic",), ("spectrum",), ("kelvin",), ("xyy",))),)

    name: Text = Field(
        description="What it is called; unique in the kit, upper or lower case alike.",
        examples=["full CTB"],
    )
    role: FilterRole = Field(
        description="What it is for. Correction, green and ND are searched; diffusion and "
        "effect are never picked to correct.",
        examples=["correction"],
    )
    series: Text | None = Field(
        default=None, description="The series of grades it belongs to.", examples=["CTB"]
    )
    note: str | None = Field(
        default=None, description="A note of your own.", examples=["one is faded"]
    )
    generic: Text | None = Field(
        default=None,
        description="Name of a built-in filter of nominal colour, listed by `evencast filters`.",
        examples=["full CTB"],
    )
    spectrum: Text | None = Field(
        default=None,
        description="File of its measured transmittance, relative to the kit: CSV with the "
        "columns `wavelength_nm,transmittance`, or IES TM-27 (`.spdx`).",
        examples=["full-ctb.csv"],
    )
    kelvin: KelvinNumbers | None = Field(
        default=None,
        description="Printed colour temperatures and stops.",
        examples=[{"from_k": 3200, "to_k": 5600, "stops": 1.67}],
    )
    xyy: Annotated[tuple[ColourNumbers, ...], Field(strict=False, min_length=1)] | None = Field(
        default=None,
        description="Printed chromaticities, one entry for each illuminant.",
        examples=[[{"illuminant": "A", "x": 0.31, "y": 0.33, "Y_percent": 31}]],
    )
    stock: Many[Stock] = Field(default=(), description="The pieces at hand.")
    evidence: Many[Evidence] = Field(default=(), description="What its colour is known from.")


class Kit(Part):
    """The filters and stock at hand, and what is known of each."""

    format: Literal[1] = Field(description="Version of this format: 1.", examples=[1])
    name: Text = Field(description="What the kit is called.", examples=["the van"])
    filter: Many[KitFilter] = Field(default=(), description="The filters, one table for each.")
