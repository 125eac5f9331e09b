"""Elements of SVG as text: numbers to a tenth of a pixel, so that equal input gives equal
bytes; styles as attributes alone; no identifiers, so that many pictures may share one page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape, quoteattr

from evencast.handouts.charts.ground import Greys
from evencast.handouts.charts.letters import clean, harmless

FONT = "Inter, 'Helvetica Neue', Arial, sans-serif"
SIZE = 13.0
LINE_PX = 16.0
"""Height of a line of text of the usual size."""

Point = tuple[float, float]

_HAN = re.compile("[\u3040-\u30ff\u3400-\u9fff\uf900-\ufaff]")
_HAN_FONT = "'Droid Sans Fallback', " + FONT
"""For lines with Chinese or Japanese letters: named first, since a typesetter that looks for any
font that has them may pick one that has them empty."""

_HEX = re.compile(r"#[0-9a-f]{6}")


def px(value: float) -> str:
    """A length or a place to a tenth of a pixel: "12", "12.5", "0"."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


def data_fill(colour: str) -> str:
    """A colour that is data, checked.

    colour : "#rrggbb" in small letters
    Raises  ValueError for anything else
    """
    if not _HEX.fullmatch(colour):
        raise ValueError(f"{colour!r} is no colour like #c08040")
    return colour


def element(tag: str, content: str | None = None, /, **attributes: str | float) -> str:
    """One element; an underscore in a name stands for a hyphen, numbers are lengths."""
    told = "".join(
        f" {name.rstrip('_').replace('_', '-')}="
        + (quoteattr(value) if isinstance(value, str) else f'"{px(value)}"')
        for name, value in attributes.items()
    )
    return f"<{tag}{told}/>" if content is None else f"<{tag}{told}>{content}</{tag}>"


def picture(
    width: float, height: float, body: Iterable[str], *, title: str, described: str, greys: Greys
) -> str:
    """A whole picture.

    title, described : plain text, for those who do not see it
    """
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" '
        f'viewBox="0 0 {px(width)} {px(height)}" width="{px(width)}" height="{px(height)}" '
        f'role="img" font-family="{FONT}" font-size="{px(SIZE)}" font-variant="tabular-nums">'
    )
    parts = [
        head,
        element("title", escape(clean(title))),
        element("desc", escape(harmless(described))),
        element("rect", width=width, height=height, fill=greys.ground),
        *body,
        "</svg>",
        "",
    ]
    return "\n".join(parts)


def words(
    lines: Sequence[str],
    at: Point,
    fill: str,
    *,
    size: float = SIZE,
    anchor: str = "start",
    bold: bool = False,
    full: str = "",
    halo: str = "",
) -> list[str]:
    """Lines of text below each other.

    at   : of the first line's foot
    full : what the lines were shortened from, shown as a title
    halo : a grey around the letters, where they may lie over lines
    """
    x, y = at
    extra: dict[str, str | float] = {}
    if halo:
        extra |= {"stroke": halo, "stroke_width": 3.0, "paint_order": "stroke"}
    if size != SIZE:
        extra["font_size"] = size
    if anchor != "start":
        extra["text_anchor"] = anchor
    if bold:
        extra["font_weight"] = "600"
    hint = element("title", escape(clean(full))) if full else ""
    return [
        element(
            "text",
            hint + escape(line),
            x=x,
            y=y + row * size * LINE_PX / SIZE,
            fill=fill,
            **extra,
            **({"font_family": _HAN_FONT} if _HAN.search(line) else {}),
        )
        for row, line in enumerate(lines)
    ]


def line(start: Point, end: Point, stroke: str, *, width: float = 1.0, dash: str = "") -> str:
    """A straight line."""
    extra: dict[str, str | float] = {"stroke_dasharray": dash} if dash else {}
    if width != 1.0:
        extra["stroke_width"] = width
    (x1, y1), (x2, y2) = start, end
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=stroke, **extra)


def path(
    points: Sequence[Point],
    *,
    stroke: str = "none",
    fill: str = "none",
    width: float = 1.0,
    dash: str = "",
    closed: bool = False,
    opacity: float = 1.0,
) -> str:
    """A line through points, or an area.

    opacity : of an area's fill, so that areas over each other can be told apart
    """
    drawn = "L".join(f"{px(x)} {px(y)}" for x, y in points)
    extra: dict[str, str | float] = {"stroke_dasharray": dash} if dash else {}
    if width != 1.0:
        extra["stroke_width"] = width
    if stroke != "none":
        extra["stroke_linejoin"] = "round"
    if opacity != 1.0:
        extra["fill_opacity"] = opacity
    shape = f"M{drawn}Z" if closed else f"M{drawn}"
    return element("path", d=shape, fill=fill, stroke=stroke, **extra)


def dot(at: Point, radius: float, *, fill: str, stroke: str, width: float = 1.5) -> str:
    """A round mark."""
    x, y = at
    return element("circle", cx=x, cy=y, r=radius, fill=fill, stroke=stroke, stroke_width=width)


def titled(parts: Iterable[str], text: str) -> str:
    """Elements that say a text when they are pointed at."""
    return element("g", element("title", escape(harmless(text))) + "".join(parts))


def arrow(at: Point, towards: Point, *, fill: str, stroke: str, size: float = 7.0) -> str:
    """A head that points from the edge at which something was cut off.

    at      : its tip
    towards : direction, of any length but none
    """
    (x, y), (dx, dy) = at, towards
    length = (dx * dx + dy * dy) ** 0.5
    dx, dy = dx / length * size, dy / length * size
    back = (x - dx * 1.6, y - dy * 1.6)
    corners = [(x, y), (back[0] - dy, back[1] + dx), (back[0] + dy, back[1] - dx)]
    return path(corners, fill=fill, stroke=stroke, closed=True)
