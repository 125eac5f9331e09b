"""A test frame drawn: a grey card behind two skins and the strip of a chart; and a photograph.

Drawn without a word: labels stand beside the picture, where they can be searched and read out.
A colour that the display cannot show carries a mark without colour.
"""

from __future__ import annotations

import base64
from collections.abc import Iterator, Sequence

from evencast.camera.patches import Patch
from evencast.handouts.pictures import FACES

WIDTH, HEIGHT = 160, 78
_FACE_RADIUS = 24
_FACES_AT = ((48, 35), (112, 35))
_STRIP_TOP, _STRIP_HEIGHT, _STRIP_LEFT = 66, 9, 8
_EDGE = "#8c8c8c"
_HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}">'


def frame_svg(patches: Sequence[Patch], *, chart: bool = True) -> str:
    """One frame.

    patches : grey, light skin, dark skin, then the chart
    chart   : whether the strip of the chart lies at its foot
    """
    return _HEAD.format(width=WIDTH, height=HEIGHT) + _inside(patches, chart=chart) + "</svg>"


def pair_of_frames_svg(before: Sequence[Patch], after: Sequence[Patch]) -> str:
    """Two frames beside each other, small: bare on the left, through the sheet on the right."""
    gap = 8
    return (
        _HEAD.format(width=2 * WIDTH + gap, height=HEIGHT)
        + _inside(before, chart=False)
        + f'<g transform="translate({WIDTH + gap} 0)">'
        + _inside(after, chart=False)
        + "</g></svg>"
    )


def photograph_svg(jpeg: bytes, *, width_px: int, height_px: int) -> str:
    """A photograph as a picture that a layout takes."""
    data = base64.b64encode(jpeg).decode("ascii")
    return (
        _HEAD.format(width=width_px, height=height_px)
        + f'<image width="{width_px}" height="{height_px}" '
        f'href="data:image/jpeg;base64,{data}"/></svg>'
    )


def has_limited(patches: Sequence[Patch], *, chart: bool = True) -> bool:
    """Whether anything that is drawn lies beyond what the display shows."""
    return any(each.limited for each in (patches if chart else patches[:FACES]))


def _inside(patches: Sequence[Patch], *, chart: bool) -> str:
    return "".join(_parts(patches, chart=chart))


def _parts(patches: Sequence[Patch], *, chart: bool) -> Iterator[str]:
    grey, *faces = patches[:FACES]
    yield (
        f'<rect x="0.25" y="0.25" width="{WIDTH - 0.5}" height="{HEIGHT - 0.5}" '
        f'fill="{grey.hex}" stroke="{_EDGE}" stroke-width="0.5"/>'
    )
    lower = 0 if chart else 4
    for face, (x, y) in zip(faces, _FACES_AT, strict=True):
        yield f'<circle cx="{x}" cy="{y + lower}" r="{_FACE_RADIUS}" fill="{face.hex}"/>'
        yield from _mark(face, x + 14, y + lower + 14)
    yield from _mark(grey, WIDTH - 8, 8)
    if chart:
        yield from _strip(patches[FACES:])


def _strip(patches: Sequence[Patch]) -> Iterator[str]:
    wide = (WIDTH - 2 * _STRIP_LEFT) / len(patches)
    for number, each in enumerate(patches):
        left = _STRIP_LEFT + number * wide
        yield (
            f'<rect x="{left:g}" y="{_STRIP_TOP}" width="{wide:g}" height="{_STRIP_HEIGHT}" '
            f'fill="{each.hex}"/>'
        )
        yield from _mark(each, left + wide / 2, _STRIP_TOP - 3, size=1.6)


def _mark(patch: Patch, x: float, y: float, *, size: float = 3.0) -> Iterator[str]:
    """A white ring with a black edge where a colour is drawn paler than it is."""
    if patch.limited:
        yield (
            f'<circle cx="{x:g}" cy="{y:g}" r="{size:g}" fill="none" stroke="#000000" '
            f'stroke-width="{size * 0.8:g}"/><circle cx="{x:g}" cy="{y:g}" r="{size:g}" '
            f'fill="none" stroke="#ffffff" stroke-width="{size * 0.4:g}"/>'
        )
