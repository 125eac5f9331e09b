"""One light of a plan: what it is, what it shall look like, what may be done to it."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import AfterValidator, Field, WithJsonSchema

from evencast.lights.light import LightKind
from evencast.lights.tint import TINT_FORMS, TINT_PATTERN, parse_tint
from evencast.plan.part import (
    Count,
    Duv,
    Kelvin,
    Many,
    OneOf,
    Part,
    Positive,
    Text,
    fault,
)
from evencast.plan.tolerance import LightRole

Fitting = Literal["fixture", "household", "tube", "panel", "street", "window"]
Move = Literal["filter", "dial", "dim", "scrim", "swap", "switch off", "leave"]


def _in_words(tint: str) -> str:
    """A tint that is written as one."""
    if parse_tint(tint) is None:
        raise fault(f'"tint" is the text "{tint}"', remedy=f"Write {TINT_FORMS}.")
    return tint


Tint = Annotated[
    str,
    AfterValidator(_in_words),
    WithJsonSchema({"type": "string", "pattern": f"^(none|{TINT_PATTERN})$"}),
]
"""Tint in words; a number alone would mean opposite things on two cameras."""

DEFAULT_MOVES: tuple[Move, ...] = ("filter", "dial", "leave")


class Aim(Part):
    """What a light shall look like, as an offset from the balance, or like another light."""

    one_of: ClassVar = (
        OneOf((("like",), ("mired",)), needed=False),
        OneOf((("like",), ("duv",)), needed=False),
    )

    mired: float = Field(
        default=0.0,
        description="Offset from the balance in mired; positive is warmer, 0 looks white.",
        examples=[30],
    )
    duv: Duv = Field(
        default=0.0,
        description="Offset from the balance in Duv; positive is greener.",
        examples=[0.002],
    )
    stops: float | None = Field(
        default=None,
        description="Level against the key light in stops; negative is darker. Left out: the "
        "level is not judged.",
        examples=[-1],
    )
    like: Text | None = Field(
        default=None,
        description="Name of the light whose colour it shall have, in place of mired and duv.",
        examples=["key"],
    )


class Adjustable(Part):
    """The range a panel can be dialled over."""

    low_k: Kelvin = Field(description="Warmest setting, in kelvin.", examples=[2700])
    high_k: Kelvin = Field(description="Coolest setting, in kelvin.", examples=[6500])


class Level(Part):
    """How much light arrives, by one reading at the subject."""

    one_of: ClassVar = (OneOf((("lux",), ("fc",), ("ev",), ("f_stop",))),)

    lux: Positive | None = Field(default=None, description="Illuminance in lux.", examples=[800])
    fc: Positive | None = Field(
        default=None, description="Illuminance in foot-candles.", examples=[75]
    )
    ev: float | None = Field(
        default=None, description="Exposure value for ISO 100, as the meter shows it.", examples=[8]
    )
    f_stop: Positive | None = Field(
        default=None,
        description="Reading of your own meter at the camera's exposure index and shutter, as "
        "an f-number.",
        examples=[4],
    )
    distance_mm: Positive | None = Field(
        default=None,
        description="Distance from the light to where it was read, with its unit in the key.",
        examples=[3000],
    )


class Aperture(Part):
    """An opening to cover: a frame, a lens, a pane."""

    width_mm: Positive = Field(
        description="Width of the opening, with its unit in the key.", examples=[600]
    )
    height_mm: Positive = Field(
        description="Height of the opening, with its unit in the key.", examples=[900]
    )
    count: Count = Field(default=1, description="How many such openings there are.", examples=[2])


class LightKeys(Part):
    """The keys a light may have in a plan and, where it differs, in a set-up."""

    name: Text = Field(
        description="What it is called; unique in the plan, upper or lower case alike.",
        examples=["window left"],
    )
    role: LightRole | None = Field(
        default=None,
        description="What it does for the picture; sets the tolerance. View is what is seen "
        "through a window, practical a lamp in shot.",
        examples=["key"],
    )
    kind: LightKind | None = Field(
        default=None,
        description="Technology of the lamp; picks the spectra that stand for a reading. Left out: "
        "that of the built-in light, else unknown.",
        examples=["tungsten"],
    )
    builtin: Text | None = Field(
        default=None,
        description="Name of a built-in light, listed by `evencast lights`.",
        examples=["tungsten"],
    )
    spectrum: Text | None = Field(
        default=None,
        description="File of its measured spectrum, relative to the plan: CSV with the columns "
        "`wavelength_nm,power`, or IES TM-27 (`.spdx`).",
        examples=["window.csv"],
    )
    cct_k: Kelvin | None = Field(
        default=None,
        description="Colour temperature read from a meter, in kelvin.",
        examples=[5400],
    )
    duv: Duv | None = Field(
        default=None,
        description="Duv read from a meter, positive is greener; goes with `cct_k`. Left out: "
        "white of that temperature.",
        examples=[0.0065],
    )
    tint: Tint | None = Field(
        default=None,
        description="Makes `cct_k` a camera's balance instead of a meter's reading: how far the "
        "camera moves its picture to make this light neutral, or none.",
        examples=["4 toward magenta"],
    )
    aim: Aim = Field(
        default=Aim(),
        description="What it shall look like. Left out: white at the balance.",
        examples=[{"mired": 30}],
    )
    moves: Many[Move] = Field(
        default=DEFAULT_MOVES,
        description="What may be done to it. Left out: filter, dial, leave.",
        examples=[["filter", "leave"]],
    )
    adjustable: Adjustable | None = Field(
        default=None,
        description="The range it can be dialled over, for a panel with a colour knob.",
        examples=[{"low_k": 2700, "high_k": 6500}],
    )
    level: Level | None = Field(
        default=None,
        description="How much light arrives from it.",
        examples=[{"lux": 800, "distance_m": 3}],
    )
    fitting: Fitting | None = Field(
        default=None,
        description="What the lamp sits in; decides which cautions are printed.",
        examples=["fixture"],
    )
    aperture: Many[Aperture] = Field(default=(), description="The openings to cover.")


class Light(LightKeys):
    """Something that lights the scene: a lamp, a window, a lamp of the house or the street."""

    one_of: ClassVar = (
        OneOf((("builtin",), ("spectrum",), ("cct_k",))),
        OneOf((("builtin",), ("duv",)), needed=False),
        OneOf((("spectrum",), ("duv",)), needed=False),
        OneOf((("builtin",), ("tint",)), needed=False),
        OneOf((("spectrum",), ("tint",)), needed=False),
        OneOf((("duv",), ("tint",)), needed=False),
    )

    role: LightRole = Field(
        description=LightKeys.model_fields["role"].description, examples=["key"]
    )


class SetupLight(LightKeys):
    """What differs for a light in one set-up, and what was planned, hung and read there."""

    one_of: ClassVar = (OneOf((("builtin",), ("spectrum",), ("cct_k",)), needed=False),)

    planned: dict[str, Any] | None = Field(
        default=None, description="What was computed for it.", examples=[{"filters": ["full CTB"]}]
    )
    rigged: dict[str, Any] | None = Field(
        default=None,
        description="What really hangs there: sheets, scrims, focus, distance, dim, height.",
        examples=[{"filters": ["half CTB", "half CTB"]}],
    )
    read: dict[str, Any] | None = Field(
        default=None,
        description="What the meter or the camera said, when, and under which sky.",
        examples=[{"cct_k": 5480, "duv": 0.001}],
    )


class Setup(Part):
    """A set-up: the plan's lights as they are for one part of the job."""

    name: Text = Field(
        description="What it is called; unique in the plan.", examples=["night, towards the door"]
    )
    light: Many[SetupLight] = Field(
        default=(), description="The lights that differ, each with only the keys that do."
    )
