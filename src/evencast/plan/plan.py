"""The plan document: the camera, the lights, and what each light shall look like."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, ConfigDict, Field, WithJsonSchema

from evencast.camera.flicker import FRAMES_PER_S, Mains
from evencast.plan.light import Light, Minutes
from evencast.plan.part import (
    Duv,
    Kelvin,
    Many,
    NotNegative,
    OneOf,
    Part,
    Positive,
    Text,
    as_number,
    fault,
)
from evencast.plan.place import folded
from evencast.plan.scene import Circuit, Look, Spot, Weights
from evencast.plan.setup import Setup
from evencast.plan.tolerance import DEFAULT_ALLOWED, Allowed, LightRole

DEFAULT_SHUTTER_DEG = 180.0


def _low_and_high(value: object) -> object:
    """`12` means 12 to either side; `[-0, 60]` names the cool and the warm end."""
    if isinstance(value, tuple):
        return value
    ends = value if isinstance(value, list) else [value, value]
    numbers = [number for number in map(as_number, ends) if number is not None]
    if len(numbers) == len(ends) == 2:
        low, high = numbers if isinstance(value, list) else (-numbers[0], numbers[1])
        if low <= 0 <= high:
            return (low, high)
    raise fault(
        '"mired" is neither a number from 0 up nor a pair around 0',
        remedy="Write mired = 12 for 12 to either side, or mired = [-5, 60] for 5 cool to 60 warm.",
    )


MiredRange = Annotated[
    tuple[float, float],
    BeforeValidator(_low_and_high),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "number", "minimum": 0},
                {
                    "type": "array",
                    "prefixItems": [
                        {"type": "number", "maximum": 0},
                        {"type": "number", "minimum": 0},
                    ],
                    "minItems": 2,
                    "maxItems": 2,
                },
            ]
        }
    ),
]


class Balance(Part):
    """The camera's white balance: fixed, a range to choose from, or taken from a card."""

    one_of: ClassVar = (
        OneOf((("fixed_k",), ("low_k", "high_k", "step_k"), ("at_k",), ("from_card_under",))),
        OneOf((("low_k",), ("duv",)), needed=False),
        OneOf((("at_k",), ("duv",)), needed=False),
        OneOf((("from_card_under",), ("duv",)), needed=False),
        OneOf((("from_card_under",), ("tint_steps",)), needed=False),
        OneOf((("fixed_k",), ("tint_steps",)), needed=False),
    )

    fixed_k: Kelvin | None = Field(
        default=None, description="The balance as dialled, in kelvin.", examples=[4300]
    )
    duv: Duv | None = Field(
        default=None,
        description="Duv of the white it is balanced to, positive is greener; goes with "
        "`fixed_k`. Left out: white of that temperature.",
        examples=[0.003],
    )
    low_k: Kelvin | None = Field(
        default=None, description="Lowest balance to consider, in kelvin.", examples=[3200]
    )
    high_k: Kelvin | None = Field(
        default=None, description="Highest balance to consider, in kelvin.", examples=[5600]
    )
    step_k: Positive | None = Field(
        default=None, description="Step between balances to consider, in kelvin.", examples=[100]
    )
    at_k: Annotated[tuple[Kelvin, ...], Field(strict=False, min_length=1)] | None = Field(
        default=None,
        description="Balances to consider, in kelvin, in place of a range.",
        examples=[[3200, 4300, 5600]],
    )
    tint_steps: Many[int] = Field(
        default=(),
        description="Steps of the camera's tint control to consider at each of them, 0 among "
        "them or not; needs `tint_step_duv` and `tint_direction` of the camera.",
        examples=[[-2, 0, 2]],
    )
    from_card_under: Text | None = Field(
        default=None,
        description="Name of the light under which the grey card is taken.",
        examples=["window left"],
    )


class Camera(Part):
    """The camera: its balance and its exposure."""

    one_of: ClassVar = (
        OneOf((("shutter_deg",), ("shutter_s",)), needed=False),
        OneOf((("t_stop",), ("f_stop",)), needed=False),
    )

    balance: Balance = Field(description="The white balance.", examples=[{"fixed_k": 4300}])
    sensitivity: Text | None = Field(
        default=None,
        description="The camera's spectral sensitivity, by name or file. Left out: the CIE 1931 "
        "observer.",
        examples=["my-camera.csv"],
    )
    exposure_index: Positive = Field(
        default=800.0, description="Exposure index, as ISO speed.", examples=[800]
    )
    frames_per_s: Positive | None = Field(
        default=None,
        description="Frames per second. Left out: 25 on 50 Hz mains, 24 on 60 Hz.",
        examples=[25],
    )
    shutter_deg: Annotated[float, Field(gt=0, le=360)] | None = Field(
        default=None,
        description="Shutter angle in degrees. Left out, with `shutter_s`: 180.",
        examples=[180],
    )
    shutter_s: Positive | None = Field(
        default=None, description="Shutter time in seconds, in place of the angle.", examples=[0.02]
    )
    t_stop: Positive | None = Field(
        default=None, description="Lens setting as a T-stop, the transmitted light.", examples=[2.8]
    )
    f_stop: Positive | None = Field(
        default=None, description="Lens setting as an f-stop, in place of `t_stop`.", examples=[2.8]
    )
    meter_constant: Annotated[float, Field(ge=240, le=540)] | None = Field(
        default=None,
        description="Constant of your own meter by ISO 2720, as read against a lux meter once. "
        "Left out: a flat disc's 250 and a dome's 330 are both told, as a range.",
        examples=[330],
    )
    tint_step_duv: Positive | None = Field(
        default=None,
        description="How much Duv one step of the camera's tint control moves.",
        examples=[0.001],
    )
    tint_direction: Literal["green", "magenta"] | None = Field(
        default=None,
        description="The side to which a positive tint moves the picture on this camera.",
        examples=["magenta"],
    )

    def exposure_s(self, *, mains_hz: Mains) -> float:
        """Exposure time of one frame. [s]"""
        if self.shutter_s is not None:
            return self.shutter_s
        frames = self.frames_per_s or FRAMES_PER_S[mains_hz]
        return (self.shutter_deg or DEFAULT_SHUTTER_DEG) / 360.0 / frames


_LIGHTS_OF: Mapping[LightRole, str] = {
    "key": "the key and all that falls on the same face",
    "fill": "the fill",
    "background": "the background",
    "practical": "lamps in shot",
    "view": "what is seen through a window",
    "other": "every other light",
}


class Tolerance(Part):
    """How far a light of one role may be from its aim; what is left out keeps its default."""

    mired: MiredRange | None = Field(
        default=None,
        description="Allowed residual in mired: one number for either side, or a pair, the "
        "cool end first.",
        examples=[12],
    )
    duv: NotNegative | None = Field(
        default=None, description="Allowed residual in Duv to either side.", examples=[0.003]
    )
    stops: NotNegative | None = Field(
        default=None, description="Allowed residual in stops to either side.", examples=[0.5]
    )


def _default_said(role: LightRole) -> str:
    allowed = DEFAULT_ALLOWED[role]
    cool, warm = abs(allowed.mired_low), allowed.mired_high
    mired = f"{warm:g} mired" if cool == warm else f"{cool:g} cool to {warm:g} warm mired"
    return (
        f"For {_LIGHTS_OF[role]}; unless given {mired}, {allowed.duv:g} Duv, "
        f"{allowed.stops:g} stop."
    )


class Tolerances(Part):
    """How near is near enough, by role, where the defaults are not wanted."""

    model_config = ConfigDict(extra="forbid")

    key: Tolerance = Field(default=Tolerance(), description=_default_said("key"))
    fill: Tolerance = Field(default=Tolerance(), description=_default_said("fill"))
    background: Tolerance = Field(default=Tolerance(), description=_default_said("background"))
    practical: Tolerance = Field(default=Tolerance(), description=_default_said("practical"))
    view: Tolerance = Field(default=Tolerance(), description=_default_said("view"))
    other: Tolerance = Field(default=Tolerance(), description=_default_said("other"))


class Limits(Part):
    """What no answer may exceed."""

    layers: Annotated[int, Field(ge=1, le=4)] = Field(
        default=3, description="Most filters in front of one light, 1 to 4.", examples=[3]
    )
    loss_stops: NotNegative | None = Field(
        default=None,
        description="Most light that filters may cost any light, in stops.",
        examples=[2],
    )


class Plan(Part):
    """A job: the camera, the lights, and what each light shall look like."""

    format: Literal[1] = Field(description="Version of this format: 1.", examples=[1])
    name: Text = Field(description="What the job is called.", examples=["kitchen, day"])
    kit: Text = Field(
        description="File of the kit to use, relative to the plan.", examples=["van-kit.toml"]
    )
    mains_hz: Literal[50, 60] = Field(
        description="Mains frequency on location, 50 or 60 Hz.", examples=[50]
    )
    camera: Camera = Field(description="The camera.", examples=[{"balance": {"fixed_k": 4300}}])
    tolerance: Tolerances = Field(
        default=Tolerances(), description="Tolerances that differ from the defaults, by role."
    )
    limits: Limits = Field(default=Limits(), description="Limits on every answer.")
    light: Many[Light] = Field(default=(), description="The lights, one table for each.")
    weights: Weights = Field(default=Weights(), description="What the answer pays for.")
    minutes: Minutes = Field(default=Minutes(), description="How long moves take.")
    spot: Many[Spot] = Field(
        default=(), description="Places where light is judged, one table for each."
    )
    circuit: Many[Circuit] = Field(default=(), description="Circuits, one table for each.")
    look: Many[Look] = Field(
        default=(),
        description="Looks of your own, one table for each; they go before the built-in.",
    )
    setup: Many[Setup] = Field(default=(), description="The set-ups, one table for each.")

    def light_named(self, name: str) -> Light | None:
        """The light of that name, whatever its capitals; the first where two share it."""
        return next((each for each in self.light if folded(each.name) == folded(name)), None)

    def allowed(self, role: LightRole) -> Allowed:
        """The tolerance of a role: the plan's where given, else the default."""
        given: Tolerance = getattr(self.tolerance, role)
        default = DEFAULT_ALLOWED[role]
        low, high = given.mired or (default.mired_low, default.mired_high)
        return Allowed(
            mired_low=low,
            mired_high=high,
            duv=default.duv if given.duv is None else given.duv,
            stops=default.stops if given.stops is None else given.stops,
        )
