"""Pictures of lit patches: grey, two skins and the chart, bare beside filtered, as SVG.

All but the patches is an achromatic grey, for colour is judged against its surround. Words stand
outside the patches. A patch that the display cannot show as it is has a cut corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.camera.patches import Patch
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.letters import clean, fitted, isolated
from evencast.handouts.charts.svg import (
    LINE_PX,
    SIZE,
    Point,
    data_fill,
    element,
    line,
    path,
    picture,
    titled,
    words,
)

COMPUTED = "Computed, not a photograph."
BEYOND = (
    "Corner cut: beyond what this display shows; drawn paler at the same brightness, or as white."
)

FACES = 3
"""The patches that are drawn large: grey, light skin, dark skin. The chart follows them."""

WIDTH, MARGIN = 900.0, 24.0
_GAP, _FACE_GAP = 28.0, 8.0
_INSIDE = 10.0
_FACE_HEIGHT, _STRIP_HEIGHT = 118.0, 34.0
_LABEL = 62.0
_HALF = (WIDTH - 2 * MARGIN - _GAP) / 2
_TITLE_SIZE, _HEAD_SIZE = 18.0, 15.0
_CORNER = 14.0


@dataclass(frozen=True, slots=True)
class Pair:
    """One balance: what it makes of the bare light, and through sheets.

    balance        : as it is said, "3200 K"
    bare, filtered : grey, light skin, dark skin, then the chart or nothing; `filtered` is empty
                     for a light without sheets
    bare_words, filtered_words : what stands over each half, in lines
    """

    balance: str
    bare: Sequence[Patch]
    filtered: Sequence[Patch]
    bare_words: Sequence[str] = ()
    filtered_words: Sequence[str] = ()


def pictures_svg(
    pairs: Sequence[Pair],
    *,
    heading: str = "",
    remarks: Sequence[str] = (),
    ground: Ground = "paper",
) -> str:
    """Pairs below each other, one for each balance.

    heading : what is seen, such as the light and its sheets; any text
    remarks : sentences under it
    """
    greys = GREYS[ground]
    body: list[str] = []
    foot = MARGIN
    if heading:
        foot = _paragraph(body, isolated(heading), foot, greys.ink, size=_TITLE_SIZE, bold=True)
    for remark in remarks:
        foot = _paragraph(body, isolated(remark), foot, greys.soft, most=3)
    for each in pairs:
        foot = _block(body, each, foot + (18.0 if body else 0.0), greys)
    limited = any(each.limited for pair in pairs for each in (*pair.bare, *pair.filtered))
    foot = _paragraph(body, COMPUTED, foot + 12.0, greys.soft)
    if limited:
        body.append(_sample_corner((MARGIN, foot + 3.0), greys))
        foot = _paragraph(body, BEYOND, foot, greys.soft, indent=22.0)
    return picture(
        WIDTH,
        foot + MARGIN - 8.0,
        body,
        title=clean(heading) if heading else _titled(pairs),
        described=described(pairs),
        greys=greys,
    )


def faces_svg(patches: Sequence[Patch], *, ground: Ground = "paper") -> str:
    """Grey and two skins alone, small, for a table that says what and under which balance."""
    greys, tall, wide, gap = GREYS[ground], 60.0, 100.0, 4.0
    body = [
        drawn_patch(each, (gap + place * (wide + gap), gap), (wide, tall))
        for place, each in enumerate(patches[:FACES])
    ]
    across, high = gap + FACES * (wide + gap), tall + 2 * gap
    return picture(
        across,
        high,
        [element("rect", width=across, height=high, fill=greys.allowed), *body],
        title="Grey and two skins",
        described=COMPUTED,
        greys=greys,
    )


def described(pairs: Sequence[Pair]) -> str:
    """What is drawn, in words, for those who do not see it."""
    told = []
    for each in pairs:
        halves = [("bare", each.bare, each.bare_words)]
        halves += [("filtered", each.filtered, each.filtered_words)] if each.filtered else []
        for side, patches, said in halves:
            colours = ", ".join(f"{patch.name} {patch.hex}" for patch in patches[:FACES])
            line_ = f"Balanced at {clean(each.balance)}, {side}: {colours}."
            told.append(" ".join([line_, *(f"{clean(text).rstrip('.')}." for text in said)]))
            beyond = [patch.name for patch in patches if patch.limited]
            if beyond:
                told.append(f"Beyond what the display shows: {', '.join(beyond)}.")
        if len(each.bare) > FACES:
            told.append(
                "Below, the chart as one strip from "
                f"{each.bare[FACES].name} to {each.bare[-1].name}"
                + (", bare over filtered." if each.filtered else ".")
            )
    return " ".join([*told, COMPUTED])


def _titled(pairs: Sequence[Pair]) -> str:
    halves = "bare and filtered" if any(each.filtered for each in pairs) else "bare"
    balances = ", ".join(clean(each.balance) for each in pairs)
    return f"Grey and two skins, {halves}, balanced at {balances}"


def _block(body: list[str], pair: Pair, top: float, greys: Greys) -> float:
    """One balance. Returns where it ends."""
    foot = _paragraph(
        body, f"Balanced at {isolated(pair.balance)}", top, greys.ink, size=_HEAD_SIZE, bold=True
    )
    halves = [("bare", pair.bare, pair.bare_words, MARGIN)]
    if pair.filtered:
        halves.append(("filtered", pair.filtered, pair.filtered_words, MARGIN + _HALF + _GAP))
    foot += 4.0
    heads = [_head(body, name, said, (x, foot), greys) for name, _, said, x in halves]
    below = max(heads) + 4.0
    for _, patches, _, x in halves:
        _faces(body, patches[:FACES], (x, below), greys)
    foot = below + _FACE_HEIGHT + 2 * _INSIDE + LINE_PX + 6.0
    strips = [(name, patches[FACES:]) for name, patches, _, _ in halves if len(patches) > FACES]
    return _strips(body, strips, foot + 8.0, greys) if strips else foot


def _head(body: list[str], name: str, said: Sequence[str], at: Point, greys: Greys) -> float:
    """What stands over a half: bare or filtered, and what is told of it."""
    x, top = at
    body += words([name], (x, top + SIZE), greys.ink, bold=True)
    foot = top + LINE_PX
    for text in said:
        cut = fitted(isolated(text), _HALF, SIZE, most_lines=2)
        body += words(cut.lines, (x, foot + SIZE), greys.soft, full=clean(text) if cut.cut else "")
        foot += LINE_PX * len(cut.lines)
    return foot + 4.0


def _faces(body: list[str], patches: Sequence[Patch], at: Point, greys: Greys) -> None:
    """Large patches beside each other on a grey surround, their names below."""
    x, y = at
    body.append(
        element(
            "rect", x=x, y=y, width=_HALF, height=_FACE_HEIGHT + 2 * _INSIDE, fill=greys.allowed
        )
    )
    wide = (_HALF - 2 * _INSIDE - (len(patches) - 1) * _FACE_GAP) / len(patches)
    for place, each in enumerate(patches):
        left = x + _INSIDE + place * (wide + _FACE_GAP)
        body.append(drawn_patch(each, (left, y + _INSIDE), (wide, _FACE_HEIGHT)))
        body += words(
            [each.name],
            (left + wide / 2, y + _FACE_HEIGHT + 2 * _INSIDE + LINE_PX),
            greys.soft,
            anchor="middle",
        )


def _strips(
    body: list[str], strips: Sequence[tuple[str, Sequence[Patch]]], top: float, greys: Greys
) -> float:
    """The chart as one strip, bare over filtered so that like lies against like."""
    body += words(["The chart"], (MARGIN, top + SIZE), greys.ink, bold=True)
    left, width = MARGIN + _LABEL, WIDTH - 2 * MARGIN - _LABEL
    top += LINE_PX + 6.0
    height = len(strips) * _STRIP_HEIGHT + 2 * _INSIDE
    body.append(element("rect", x=left, y=top, width=width, height=height, fill=greys.allowed))
    for row, (name, patches) in enumerate(strips):
        y = top + _INSIDE + row * _STRIP_HEIGHT
        body += words([name], (MARGIN, y + _STRIP_HEIGHT / 2 + 4.5), greys.soft)
        wide = (width - 2 * _INSIDE) / len(patches)
        for place, each in enumerate(patches):
            at = (left + _INSIDE + place * wide + 1.0, y)
            body.append(drawn_patch(each, at, (wide - 2.0, _STRIP_HEIGHT)))
    return top + height


def drawn_patch(patch: Patch, at: Point, size: tuple[float, float]) -> str:
    """A patch that says its name when pointed at, a corner cut off where it is limited."""
    (x, y), (width, height) = at, size
    fill, said = data_fill(patch.hex), f"{patch.name} {patch.hex}"
    if not patch.limited:
        return titled([element("rect", x=x, y=y, width=width, height=height, fill=fill)], said)
    corner = min(_CORNER, width / 2.5)
    drawn = _cut((x, y), (width, height), corner, fill)
    return titled(drawn, f"{said}, beyond what this display shows")


def _cut(at: Point, size: tuple[float, float], corner: float, fill: str) -> list[str]:
    """A rectangle without its upper right corner, the edge of the cut in black and white, which
    shows on any colour."""
    (x, y), (width, height) = at, size
    start, end = (x + width - corner, y), (x + width, y + corner)
    shape = [(x, y), start, end, (x + width, y + height), (x, y + height)]
    return [
        path(shape, fill=fill, closed=True),
        line(start, end, "#ffffff", width=3.0),
        line(start, end, "#161616", width=1.2),
    ]


def _sample_corner(at: Point, greys: Greys) -> str:
    """The mark beside its explanation."""
    return titled(_cut(at, (14.0, 14.0), 9.0, greys.line), BEYOND)


def _paragraph(
    body: list[str],
    text: str,
    top: float,
    fill: str,
    *,
    size: float = SIZE,
    bold: bool = False,
    most: int = 2,
    indent: float = 0.0,
) -> float:
    """Lines over the whole width. Returns where they end."""
    room = WIDTH - 2 * MARGIN - indent
    cut = fitted(text, room / (1.05 if bold else 1.0), size, most_lines=most)
    body += words(
        cut.lines,
        (MARGIN + indent, top + size),
        fill,
        size=size,
        bold=bold,
        full=clean(text) if cut.cut else "",
    )
    return top + len(cut.lines) * size * LINE_PX / SIZE + 3.0
