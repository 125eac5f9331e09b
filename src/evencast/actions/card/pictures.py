"""The pictures of a filter at a balance: grey, skins and the chart, bare and through it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from evencast.actions.card.numbers import Numbers
from evencast.actions.doubt import middle
from evencast.actions.picture import Stage
from evencast.actions.reading import rounded
from evencast.camera.display import display_named, srgb_light
from evencast.camera.patches import Patch
from evencast.camera.sensitivities import Sensitivities
from evencast.colour import mired_duv, uv, white
from evencast.lights import Light
from evencast.quantities import say_duv
from evencast.results.card import CardFrame, CardPicture

DISPLAY = "sRGB"
NEUTRAL_MIRED = 5.0
_TINTS = (
    (NEUTRAL_MIRED, "neutral"),
    (12.0, "all but neutral"),
    (35.0, "a little {side}"),
    (85.0, "{side}"),
)
_HUES = ((20, "red"), (75, "orange"), (110, "yellow"), (170, "green"), (215, "blue-green"))
_MORE_HUES = ((275, "blue"), (315, "violet"), (345, "magenta"), (361, "red"))
_STRONG = ((170.0, {"warm": "orange", "cool": "blue"}),)


@dataclass(frozen=True, eq=False)
class Studio:
    """What sees, balanced so, for the display that paper is taken for.

    drawn_bare : patches of bare lights, each drawn once
    """

    camera: Sensitivities
    balance_k: float
    drawn_bare: dict[str, list[Patch]] = field(default_factory=dict)

    @cached_property
    def stage(self) -> Stage:
        """All that, with the white that comes out neutral."""
        return Stage(self.camera, display_named(DISPLAY), white(self.balance_k))

    @cached_property
    def mired_duv(self) -> tuple[float, float]:
        """Of that white."""
        at_mired, at_duv = mired_duv(uv(self.stage.balance_power))
        return float(at_mired), float(at_duv)

    def picture(self, each: Numbers, frames: list[CardFrame]) -> CardPicture:
        """One filter in front of its light."""
        at_mired, at_duv = self.mired_duv
        bare, through = each.light.members, each.seen.members
        residual = rounded(each.filtered_mired - at_mired, 3)
        bare_residual = rounded(each.bare_mired - at_mired, 3)
        bare_duv, duv = middle(each.seen.bare.duv) - at_duv, each.filtered_duv - at_duv
        return CardPicture(
            balance_k=self.balance_k,
            bare_residual_mired=bare_residual,
            bare_residual_duv=rounded(bare_duv, 6),
            residual_mired=residual,
            residual_duv=rounded(duv, 6),
            bare=self._bare(each.light),
            filtered=self.stage.patches(through, exposure=bare),
            compensated=self.stage.patches(through, exposure=through),
            bare_looks=tint(bare_residual, each.bare_green),
            filtered_looks=_after(
                tint(bare_residual, each.bare_green),
                bare_residual,
                tint(residual, each.filtered_green or 0.0, hue(each)),
                residual,
            ),
            frames=frames,
        )

    def _bare(self, light: Light) -> list[Patch]:
        if light.name not in self.drawn_bare:
            self.drawn_bare[light.name] = self.stage.patches(light.members, exposure=light.members)
        return self.drawn_bare[light.name]


def _after(bare_looks: str, bare_mired: float | None, looks: str, off_mired: float | None) -> str:
    """The card through the filter, where need be beside how it looked bare."""
    if looks != bare_looks or bare_mired is None or off_mired is None or looks == "neutral":
        return looks
    change = abs(off_mired) - abs(bare_mired)
    if abs(change) < NEUTRAL_MIRED:
        return "the same"
    return f"still {looks}, a little {'less' if change < 0 else 'more'}"


def tint(off_mired: float | None, green_duv: float, strong: str = "colour") -> str:
    """How a grey card looks so far from the balance, in plain words: "a little warm", "orange".

    green_duv : beside the white of its Kelvin
    strong    : its hue, said where there is no CCT

    The steps are our own; beside them stands the number.
    """
    if off_mired is None:
        return f"a strong {strong}"
    side = "warm" if off_mired > 0 else "cool"
    green = say_duv(green_duv)
    also = "" if green in ("neutral", f"a trace {green.split()[-1]}") else f" and {green}"
    for limit, words in _TINTS:
        if abs(off_mired) <= limit:
            plain = words.format(side=side)
            return green if also and plain == "neutral" else plain + also
    for limit, names in _STRONG:
        if abs(off_mired) <= limit:
            return names[side] + also
    return f"deep {_STRONG[0][1][side]}{also}"


def light_of_grey(picture: list[Patch]) -> float:
    """How bright the grey card is drawn, in percent of white."""
    code = picture[0].hex
    encoded = np.array([int(code[at : at + 2], 16) / 255.0 for at in (1, 3, 5)])
    return float(100.0 * srgb_light(encoded) @ display_named(DISPLAY).luminance)


def hue(each: Numbers) -> str:
    """The colour beside the bare light, in plain words by the angle in CIE 1976 u', v'."""
    toward = each.seen.uv - np.asarray(
        [middle(each.seen.bare.uv[..., 0]), middle(each.seen.bare.uv[..., 1])]
    )
    angle = math.degrees(math.atan2(1.5 * float(toward[1]), float(toward[0]))) % 360.0
    return next(name for limit, name in (*_HUES, *_MORE_HUES) if angle < limit)
