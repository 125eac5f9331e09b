"""What a display shows of a colour: its primaries, its code values, and where it ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from evencast.errors import EvencastError
from evencast.quantities import Floats, listed

D65_XY = (0.3127, 0.3290)
ROUNDING = 1e-9
"""A colour no farther out than this is inside: it is the rounding of the sums."""

Curve = Callable[[Floats], Floats]


@dataclass(frozen=True, slots=True, eq=False)
class Display:
    """A display with a white of D65.

    name     : "sRGB", "Rec. 709" or "Display P3"
    from_xyz : (3, 3) tristimulus values to linear red, green, blue; its white is 1, 1, 1
    white    : (3,) tristimulus values of its white, Y being 1
    luminance : (3,) what red, green and blue give of Y
    encode   : linear light, 0 to 1, to code values, 0 to 1
    note     : what must be known of the code values; "" where nothing
    """

    name: str
    from_xyz: Floats
    white: Floats
    luminance: Floats
    encode: Curve
    note: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Rendered:
    """Colours for a display.

    values  : (..., 3) code values, 0 to 1
    limited : (...,) whether the display cannot show the colour as it is
    """

    values: Floats
    limited: NDArray[np.bool_]

    def hexes(self) -> list[str]:
        """The code values in eight bits, "#rrggbb", one for each colour, flat."""
        bytes_ = np.rint(self.values.reshape(-1, 3) * 255.0).astype(np.uint8)
        return [f"#{red:02x}{green:02x}{blue:02x}" for red, green, blue in bytes_.tolist()]


def srgb_curve(linear: Floats) -> Floats:
    """IEC 61966-2-1: straight near black, then a power of 1/2.4."""
    curved = 1.055 * np.maximum(linear, 0.0031308) ** (1.0 / 2.4) - 0.055
    return np.asarray(np.where(linear <= 0.0031308, 12.92 * linear, curved))


def srgb_light(encoded: Floats) -> Floats:
    """Linear light of code values: the inverse of `srgb_curve`."""
    curved = ((np.maximum(encoded, 0.04045) + 0.055) / 1.055) ** 2.4
    return np.asarray(np.where(encoded <= 0.04045, encoded / 12.92, curved))


def bt1886_curve(linear: Floats) -> Floats:
    """The inverse of ITU-R BT.1886 with black at 0: a power of 1/2.4."""
    return np.asarray(np.maximum(linear, 0.0) ** (1.0 / 2.4))


_PRIMARIES = {
    "sRGB": ((0.640, 0.330), (0.300, 0.600), (0.150, 0.060)),
    "Rec. 709": ((0.640, 0.330), (0.300, 0.600), (0.150, 0.060)),
    "Display P3": ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)),
}
_CURVES = {"sRGB": srgb_curve, "Rec. 709": bt1886_curve, "Display P3": srgb_curve}
_NOTES = {
    "Rec. 709": "Code values for a monitor that follows ITU-R BT.1886: judge them there. Where a "
    "program takes them for sRGB, as most do, mid-tones come out a little too light.",
    "Display P3": "Code values for a Display P3 screen: judge them there. Where a program takes "
    "them for sRGB, as most do, colours come out a little too pale.",
}
DISPLAYS = tuple(_PRIMARIES)


def display_named(name: str) -> Display:
    """A display by name, in any case.

    Raises  EvencastError that lists the names
    """
    for known in DISPLAYS:
        if name.strip().casefold() == known.casefold():
            return _display(known)
    raise EvencastError(
        f'there is no display "{name}"', where="display", remedy=f"Use {listed(DISPLAYS, 'or')}."
    )


@cache
def _display(name: str) -> Display:
    primaries = np.array([(x / y, 1.0, (1.0 - x - y) / y) for x, y in _PRIMARIES[name]]).T
    x, y = D65_XY
    white = np.array([x / y, 1.0, (1.0 - x - y) / y])
    to_xyz = primaries * np.linalg.solve(primaries, white)
    return Display(
        name, np.linalg.inv(to_xyz), white, to_xyz[1], _CURVES[name], _NOTES.get(name, "")
    )


def shown(linear: Floats, display: Display) -> Rendered:
    """Colours as a display shows them.

    linear : (..., 3) linear red, green, blue of the display, its white being 1
    Method   a colour inside stays as it is; one outside is drawn towards the grey of its own
             luminance, just as far as it must: paler, no darker and no lighter. What is brighter
             than white becomes white, what is darker than black becomes black
    """
    grey = np.clip(linear @ display.luminance, 0.0, 1.0)[..., None]
    outside = np.asarray(((linear < -ROUNDING) | (linear > 1.0 + ROUNDING)).any(axis=-1))
    beside = linear - (linear @ display.luminance)[..., None]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        room = np.where(beside > 0.0, (1.0 - grey) / beside, grey / -beside)
    room = np.where(beside == 0.0, 1.0, room).min(axis=-1, keepdims=True)
    kept = np.where(outside[..., None], grey + np.clip(room, 0.0, 1.0) * beside, linear)
    return Rendered(display.encode(np.clip(kept, 0.0, 1.0)), outside)
