"""Spots, circuits and looks of a plan, and what an answer weighs."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from evencast.plan.level import READ_KEYS, Reading, only_for_f_stop
from evencast.plan.part import Duv, Many, NotNegative, OneOf, Part, Positive, Text

SpotRole = Literal["key", "fill", "background"]


class SpotLight(Reading):
    """What one light gives at a spot, alone and bare."""

    one_of: ClassVar = (
        OneOf((*READ_KEYS, ("stops",))),
        *only_for_f_stop("lux", "fc", "ev", "stops"),
    )

    name: Text = Field(description="Name of the light.", examples=["window left"])
    stops: float | None = Field(
        default=None,
        description="Against its own level at the subject, in stops; negative is darker. In "
        "place of a reading.",
        examples=[-2],
    )


class Spot(Part):
    """A place on set where light is judged."""

    name: Text = Field(
        description="What it is called; unique in the plan.", examples=["her left cheek"]
    )
    role: SpotRole = Field(
        description="Whose tolerance holds there: key, fill or background.", examples=["fill"]
    )
    light: Many[SpotLight] = Field(
        default=(), description="The lights that reach it, one table for each."
    )


class Circuit(Part):
    """One circuit of the place."""

    name: Text = Field(
        description="What it is called; unique in the plan.", examples=["kitchen ring"]
    )
    volts: Positive = Field(description="Its voltage.", examples=[230])
    breaker_a: Positive = Field(description="Its breaker, in amps.", examples=[16])
    margin: Annotated[float, Field(gt=0, le=1)] = Field(
        default=0.8,
        description="Share of the breaker that may be drawn for hours.",
        examples=[0.8],
    )


class Look(Part):
    """A colour wanted on purpose, as an offset from the balance."""

    name: Text = Field(
        description="What it is called; unique in the plan.", examples=["alley moon"]
    )
    mired: float = Field(
        default=0.0, description="Offset in mired; positive is warmer.", examples=[-40]
    )
    duv: Duv = Field(
        default=0.0, description="Offset in Duv; positive is greener.", examples=[0.001]
    )
    stops: float | None = Field(
        default=None,
        description="Level against the key in stops; negative is darker.",
        examples=[-1.5],
    )


class Weights(Part):
    """What an answer pays for, in sheets: a stop that weighs 1.25 costs as much as 1.25 sheets."""

    stops: NotNegative = Field(
        default=1.25, description="One stop lost to sheets, on one light.", examples=[1.25]
    )
    pieces: NotNegative = Field(default=1.0, description="One piece cut and hung.", examples=[1])
    square_metres: NotNegative = Field(
        default=1.0, description="One square metre of sheet.", examples=[1]
    )
    minutes: NotNegative = Field(default=0.1, description="One minute of work.", examples=[0.1])
