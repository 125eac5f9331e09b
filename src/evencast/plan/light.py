"""One light of a plan: what it is, what it shall look like, what may be done to it."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import AfterValidator, Field, WithJsonSchema

from evencast.lights.catalogue import kind_and_fitting
from evencast.lights.light import LightKind
from evencast.lights.tint import TINT_FORMS, TINT_PATTERN, parse_tint
from evencast.plan.level import Level
from evencast.plan.part import (
    Count,
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
from evencast.plan.place import quoted
from evencast.plan.tolerance import LightRole

Fitting = Literal["fixture", "household", "tube", "panel", "street", "window"]
Move = Literal["filter", "dial", "dim", "scrim", "swap", "switch off", "leave", "match the rest"]
Scrim = Literal["single", "double", "half single", "half double"]


def _in_words(tint: str) -> str:
    """A tint that is written as one."""
    if parse_tint(tint) is None:
        raise fault(f'"tint" is the text {quoted(tint)}', remedy=f"Write {TINT_FORMS}.")
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
        OneOf((("like",), ("mired",), ("look",)), needed=False),
        OneOf((("like",), ("duv",), ("look",)), needed=False),
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
    look: Text | None = Field(
        default=None,
        description="Name of a look, in place of mired and duv: one of the plan's own, or of "
        "those that `evencast looks` lists. Its stops hold unless `stops` is given.",
        examples=["moonlight, discreet"],
    )


class Adjustable(Part):
    """The range a panel can be dialled over."""

    low_k: Kelvin = Field(description="Warmest setting, in kelvin.", examples=[2700])
    high_k: Kelvin = Field(description="Coolest setting, in kelvin.", examples=[6500])


class Aperture(Part):
    """An opening to cover: a frame, a lens, a pane."""

    width_mm: Positive = Field(
        description="Width of the opening, with its unit in the key.", examples=[600]
    )
    height_mm: Positive = Field(
        description="Height of the opening, with its unit in the key.", examples=[900]
    )
    count: Count = Field(default=1, description="How many such openings there are.", examples=[2])


class Minutes(Part):
    """How long a move takes, for one opening or lamp."""

    filter: NotNegative | None = Field(
        default=None, description="To hang one sheet in front of one opening.", examples=[4]
    )
    dial: NotNegative | None = Field(default=None, description="To dial a light.", examples=[1])
    dim: NotNegative | None = Field(default=None, description="To dim a light.", examples=[1])
    scrim: NotNegative | None = Field(
        default=None, description="To put a scrim into a light.", examples=[1]
    )
    swap: NotNegative | None = Field(
        default=None, description="To swap one bulb or tube.", examples=[5]
    )
    switch_off: NotNegative | None = Field(
        default=None, description="To switch a light off.", examples=[1]
    )


class Swap(Part):
    """What a bulb or tube may be swapped for."""

    one_of: ClassVar = (
        OneOf((("builtin",), ("spectrum",), ("cct_k",))),
        OneOf((("builtin",), ("duv",)), needed=False),
        OneOf((("spectrum",), ("duv",)), needed=False),
    )

    name: Text = Field(description="What it is called.", examples=["daylight bulb"])
    kind: LightKind | None = Field(
        default=None, description="Its technology, as with a light.", examples=["phosphor LED"]
    )
    builtin: Text | None = Field(
        default=None, description="Name of a built-in light.", examples=["LED phosphor 5000 K B4"]
    )
    spectrum: Text | None = Field(
        default=None,
        description="File of its spectrum, relative to the plan, as with a light.",
        examples=["bulb.csv"],
    )
    cct_k: Kelvin | None = Field(
        default=None, description="Its colour temperature, in kelvin.", examples=[5000]
    )
    duv: Duv | None = Field(default=None, description="Its Duv, with `cct_k`.", examples=[0.001])
    at_hand: Annotated[int, Field(ge=0)] | None = Field(
        default=None, description="How many there are. Left out: enough.", examples=[4]
    )
    stops: float = Field(
        default=0.0,
        description="How much brighter it is than what it replaces, in stops; negative is darker.",
        examples=[-0.3],
    )


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
        "`wavelength_nm,power`, or IES TM-27 (`.spdx`). Or a fixture's file in GDTF (`.gdtf`).",
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
    count: Count = Field(
        default=1, description="How many such fixtures shine as this one light.", examples=[2]
    )
    level: Level | None = Field(
        default=None,
        description="How much light arrives from one of it, bare; with the role view what a "
        "reflected reading of the view says.",
        examples=[{"lux": 800, "distance_m": 3}],
    )
    distance_mm: Positive | None = Field(
        default=None,
        description="Distance from the light to the subject, with its unit in the key. Left out: "
        "where its level was read.",
        examples=[3000],
    )
    size_mm: Positive | None = Field(
        default=None,
        description="Greatest width of what shines, with its unit in the key: how soft it is and "
        "how near inverse square holds.",
        examples=[300],
    )
    frost: Many[Text] = Field(
        default=(),
        description="Names of diffusion sheets of the kit that hang in front of it in any case.",
        examples=[["light frost"]],
    )
    frost_size_mm: Positive | None = Field(
        default=None,
        description="Greatest width of the frost that is lit, with its unit in the key.",
        examples=[600],
    )
    behind: Text | None = Field(
        default=None,
        description="Name of the window light that a view is seen through: the sheets on its "
        "panes stand before the view too.",
        examples=["window left"],
    )
    swap: Many[Swap] = Field(default=(), description="What its lamp may be swapped for.")
    minutes: Minutes = Field(
        default=Minutes(),
        description="How long its moves take, where it differs.",
        examples=[{"filter": 10}],
    )
    watts: Positive | None = Field(
        default=None, description="Watts on its plate, of one fixture.", examples=[650]
    )
    amps: Positive | None = Field(
        default=None, description="Amps on its plate, in place of watts.", examples=[3.1]
    )
    power_factor: Annotated[float, Field(gt=0, le=1)] | None = Field(
        default=None, description="Power factor on its plate; goes with `watts`.", examples=[0.9]
    )
    circuit: Text | None = Field(
        default=None,
        description="Name of the circuit it is plugged into.",
        examples=["kitchen ring"],
    )
    fitting: Fitting | None = Field(
        default=None,
        description="What the lamp sits in; decides which cautions are printed.",
        examples=["fixture"],
    )
    aperture: Many[Aperture] = Field(default=(), description="The openings to cover.")

    def lamp_kind(self) -> str:
        """Its technology: a built-in light's own, else as written; "unknown" where nothing says,
        and "" where a fixture's file may."""
        known = kind_and_fitting(self.builtin) if self.builtin else None
        if known:
            return known[0]
        if self.kind is None and (self.spectrum or "").casefold().endswith(".gdtf"):
            return ""
        return "unknown" if self.kind is None else self.kind

    def lamp_fitting(self) -> str:
        """What it sits in: as written, else a built-in light's own; "" where nothing says."""
        known = kind_and_fitting(self.builtin) if self.builtin else None
        return self.fitting or (known[1] if known else "")


class Light(LightKeys):
    """Something that lights the scene: a lamp, a window, a lamp of the house or the street."""

    one_of: ClassVar = (
        OneOf((("builtin",), ("spectrum",), ("cct_k",))),
        OneOf((("builtin",), ("duv",)), needed=False),
        OneOf((("spectrum",), ("duv",)), needed=False),
        OneOf((("builtin",), ("tint",)), needed=False),
        OneOf((("spectrum",), ("tint",)), needed=False),
        OneOf((("duv",), ("tint",)), needed=False),
        OneOf((("amps",), ("watts",)), needed=False),
        OneOf((("amps",), ("power_factor",)), needed=False),
    )

    role: LightRole = Field(
        description=LightKeys.model_fields["role"].description, examples=["key"]
    )
