"""How much light a light of a plan gives: one reading of it, or what is known of the lamp."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from evencast.plan.part import OneOf, Part, Positive, Text

READ_KEYS = (("lux",), ("fc",), ("ev",), ("f_stop",))
"""Keys of a reading, of which one is enough."""


class Reading(Part):
    """One reading of a meter."""

    one_of: ClassVar[tuple[OneOf, ...]] = (
        OneOf(READ_KEYS),
        OneOf((("ev",), ("exposure_index",)), needed=False),
        OneOf((("lux",), ("exposure_index",)), needed=False),
        OneOf((("fc",), ("exposure_index",)), needed=False),
    )

    lux: Positive | None = Field(default=None, description="Illuminance in lux.", examples=[800])
    fc: Positive | None = Field(
        default=None, description="Illuminance in foot-candles.", examples=[75]
    )
    ev: float | None = Field(
        default=None, description="Exposure value for ISO 100, as the meter shows it.", examples=[8]
    )
    f_stop: Positive | None = Field(
        default=None,
        description="Reading of your own meter as an f-number, at the camera's exposure index "
        "and shutter unless others are given.",
        examples=[4],
    )
    exposure_index: Positive | None = Field(
        default=None,
        description="Exposure index that the meter was set to for `f_stop`. Left "
        "out: the camera's.",
        examples=[400],
    )
    shutter_s: Positive | None = Field(
        default=None,
        description="Time in seconds that the meter was set to for `f_stop`. Left out: the "
        "camera's.",
        examples=[0.02],
    )


class Level(Reading):
    """How much light arrives from one such light, bare."""

    one_of: ClassVar = (
        OneOf((*READ_KEYS, ("cd",), ("watts",), ("photometry",))),
        *Reading.one_of[1:],
    )

    cd: Positive | None = Field(
        default=None,
        description="Candelas towards the subject, in place of a reading.",
        examples=[9000],
    )
    watts: Positive | None = Field(
        default=None,
        description="Watts of a tungsten Fresnel, in place of a reading: a wide range, common "
        "practice.",
        examples=[650],
    )
    focus: Literal["flood", "spot"] | None = Field(
        default=None,
        description="Where its lens stood for the reading, or stands for `watts`.",
        examples=["flood"],
    )
    photometry: Text | None = Field(
        default=None,
        description="Photometric file relative to the plan, ending in .ies or .ldt: its candelas "
        "at the brightest, in place of a reading.",
        examples=["panel.ies"],
    )
    distance_mm: Positive | None = Field(
        default=None,
        description="Distance from the light to where it was read, with its unit in the key.",
        examples=[3000],
    )
