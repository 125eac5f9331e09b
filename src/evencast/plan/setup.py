"""Set-ups: what differs in a part of the job; what was planned, rigged and read there."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import BeforeValidator, Field

from evencast.plan.kit import date_text
from evencast.plan.level import READ_KEYS, Reading, only_for_f_stop
from evencast.plan.light import Light, LightKeys, Scrim, Tint
from evencast.plan.part import Duv, Kelvin, Many, NotNegative, OneOf, Part, Positive, Text


class Hung(Part):
    """What stands in front of a light and how it is set."""

    filters: Many[Text] = Field(
        default=(),
        description="Names of the sheets, from the lamp outwards.",
        examples=[["half CTB"]],
    )
    scrims: Many[Scrim] = Field(default=(), description="Its scrims.", examples=[["double"]])
    dial_k: Kelvin | None = Field(
        default=None, description="What it is dialled to, in kelvin.", examples=[4300]
    )
    dim_stops: NotNegative = Field(
        default=0.0, description="What its dimmer takes, in stops.", examples=[0.5]
    )
    swapped_for: Text | None = Field(
        default=None, description="What the lamp was swapped for.", examples=["daylight bulb"]
    )
    off: bool = Field(default=False, description="Whether it is switched off.", examples=[True])


class Planned(Hung):
    """What was computed for a light in a set-up."""


class Rigged(Hung):
    """What really hangs there."""

    focus: Text | None = Field(
        default=None,
        description="Where its lens stands: flood, spot, or between.",
        examples=["flood"],
    )
    distance_mm: Positive | None = Field(
        default=None,
        description="Distance from the light to the subject, with its unit in the key.",
        examples=[3000],
    )
    height_mm: Positive | None = Field(
        default=None, description="Height of the lens, with its unit in the key.", examples=[2400]
    )
    note: Text | None = Field(
        default=None, description="Whatever else to remember.", examples=["flag left"]
    )


class Read(Reading):
    """What the meter or the camera said of a light as it hangs, when, and under which sky."""

    one_of: ClassVar = (
        OneOf(READ_KEYS, needed=False),
        OneOf((("duv",), ("tint",)), needed=False),
        *only_for_f_stop("lux", "fc", "ev"),
    )

    cct_k: Kelvin | None = Field(
        default=None, description="Colour temperature read, in kelvin.", examples=[5480]
    )
    duv: Duv | None = Field(
        default=None, description="Duv read, positive is greener.", examples=[0.001]
    )
    tint: Tint | None = Field(
        default=None,
        description="Makes `cct_k` a camera's balance: how far the camera moves its picture to "
        "make the light neutral, or none.",
        examples=["4 toward magenta"],
    )
    time: Annotated[Text, BeforeValidator(date_text)] | None = Field(
        default=None,
        description="When, as year-month-day and hour:minute with the offset from UTC.",
        examples=["2031-05-04T16:20+02:00"],
    )
    sky: Text | None = Field(default=None, description="Under which sky.", examples=["thin cloud"])
    frame: Text | None = Field(
        default=None, description="Name of the frame with the card in it.", examples=["A014_C003"]
    )


_INSTEAD: tuple[tuple[frozenset[str], frozenset[str]], ...] = (
    (
        frozenset({"builtin", "spectrum", "cct_k"}),
        frozenset({"builtin", "spectrum", "cct_k", "duv", "tint"}),
    ),
    (frozenset({"builtin"}), frozenset({"kind"})),
    (frozenset({"duv", "tint"}), frozenset({"duv", "tint"})),
    (frozenset({"watts", "amps"}), frozenset({"watts", "amps", "power_factor"})),
)
"""Where one of the first is given anew, the second no longer hold."""


class SetupLight(LightKeys):
    """What differs for a light in one set-up, and what was planned, hung and read there."""

    one_of: ClassVar = (OneOf((("builtin",), ("spectrum",), ("cct_k",)), needed=False),)

    planned: Planned | None = Field(
        default=None, description="What was computed for it.", examples=[{"filters": ["full CTB"]}]
    )
    rigged: Rigged | None = Field(
        default=None,
        description="What really hangs there: sheets, scrims, focus, distance, dim, height.",
        examples=[{"filters": ["half CTB", "half CTB"]}],
    )
    read: Read | None = Field(
        default=None,
        description="What the meter or the camera said, when, and under which sky.",
        examples=[{"cct_k": 5480, "duv": 0.001}],
    )

    def over(self, light: Light) -> Light:
        """The light as it stands in the set-up: the keys given here before its own."""
        given = (self.model_fields_set & Light.model_fields.keys()) - {"name"}
        gone = [key for some, others in _INSTEAD if some & given for key in others]
        update = dict.fromkeys(gone) | {key: getattr(self, key) for key in given}
        return light.model_copy(update=update)


class Setup(Part):
    """A set-up: the plan's lights as they are for one part of the job."""

    name: Text = Field(
        description="What it is called; unique in the plan.", examples=["night, towards the door"]
    )
    balance_k: Kelvin | None = Field(
        default=None,
        description="What the camera stands at in this set-up, in kelvin. Left out: the plan's "
        "balance, if that is one alone.",
        examples=[4300],
    )
    balance_duv: Duv | None = Field(
        default=None,
        description="Duv of the white it is balanced to, positive is greener; goes with "
        "`balance_k`. Left out: white of that temperature.",
        examples=[0.003],
    )
    planned_for: Text | None = Field(
        default=None,
        description="What `planned` was worked out for, as a digest of plan and kit; written with "
        "it, and another one as soon as either is changed.",
        examples=["9f2c61d07a35be48"],
    )
    light: Many[SetupLight] = Field(
        default=(), description="The lights that differ, each with only the keys that do."
    )
