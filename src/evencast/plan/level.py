"""How much light a light of a plan gives: one reading of it, or what is known of the lamp."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import AfterValidator, Field, WithJsonSchema

from evencast.plan.part import OneOf, Part, Positive, fault
from evencast.plan.place import quoted

READ_KEYS = (("lux",), ("fc",), ("ev",), ("f_stop",))
"""Keys of a reading, of which one is enough."""


def only_for_f_stop(*others: str) -> tuple[OneOf, ...]:
    """The meter's settings go with the stop it showed; with the `others` they mean nothing."""
    settings = ("exposure_index", "shutter_s")
    return tuple(
        OneOf(((other,), (setting,)), needed=False) for other in others for setting in settings
    )


def _photometric(name: str) -> str:
    """The name of a file of a kind that is read."""
    if not name.casefold().endswith((".ies", ".ldt", ".gdtf")):
        raise fault(
            f'"photometry" is the text {quoted(name)}, which ends in none of .ies, .ldt and .gdtf',
            remedy="Name a file in IES LM-63 (.ies), in EULUMDAT (.ldt) or in GDTF (.gdtf), as in "
            'photometry = "panel.ies".',
        )
    return name


PhotometricFile = Annotated[
    str,
    AfterValidator(_photometric),
    WithJsonSchema(
        {"type": "string", "pattern": r"\.([iI][eE][sS]|[lL][dD][tT]|[gG][dD][tT][fF])$"}
    ),
]


class Reading(Part):
    """One reading of a meter."""

    one_of: ClassVar[tuple[OneOf, ...]] = (
        OneOf(READ_KEYS),
        *only_for_f_stop("lux", "fc", "ev"),
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
        *only_for_f_stop("lux", "fc", "ev", "cd", "watts", "photometry"),
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
    photometry: PhotometricFile | None = Field(
        default=None,
        description="Photometric file relative to the plan, ending in .ies or .ldt: its candelas "
        "at the brightest, in place of a reading. Or a fixture's, ending in .gdtf: candelas by its "
        "flux and beam, a range.",
        examples=["panel.ies"],
    )
    distance_mm: Positive | None = Field(
        default=None,
        description="Distance from the light to where it was read, with its unit in the key.",
        examples=[3000],
    )
