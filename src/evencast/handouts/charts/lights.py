"""Every light before and after, against the balance: mired across, Duv up."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.handouts.charts.frame import (
    MARGIN,
    Entry,
    Panel,
    Part,
    Sample,
    about,
    checked_width,
    footed,
    grid,
    heading,
    key,
    names_below,
    paragraph,
    room_beside,
)
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.labels import Field, Labelled, Named, labelled
from evencast.handouts.charts.letters import isolated
from evencast.handouts.charts.marks import (
    ARROW_PX,
    RING_PX,
    bare_sample,
    cross_sample,
    hung_sample,
    light_mark,
    outline_sample,
)
from evencast.handouts.charts.moves import Colour, LightMove, LightsChart, described, say, say_hung
from evencast.handouts.charts.placing import Box, Segment
from evencast.handouts.charts.scale import Scale, window
from evencast.handouts.charts.svg import (
    Point,
    line,
    path,
    picture,
    titled,
)
from evencast.handouts.charts.values import (
    Tolerance,
    finite,
)
from evencast.quantities import kelvin, listed, say_mired

MOST_MIRED, MOST_DUV = 150.0, 0.015
_LEAST_MIRED, _LEAST_DUV = 20.0, 0.004
_HEIGHT_OF_WIDTH, _HEIGHT_OF_WIDTH_SMALL = 0.5, 0.36
_DASHES = ("6 4", "2 3", "10 3", "8 3 2 3", "1 2", "12 4 2 4")
_READ_AS = (
    "Across: mired from the balance. Up: Duv beside the balance's own. An arrow at the edge: "
    "further out, as told. Bold: outside its tolerance."
)
_ROLES = ("key", "fill", "background", "practical", "view", "other")


def svg(
    chart: LightsChart, *, ground: Ground = "paper", width: float = 760.0, small: bool = False
) -> str:
    """The chart as a picture.

    small : the field and its names alone, and lower, for a page that says itself what is drawn
    """
    greys, width = GREYS[ground], checked_width(width)
    head = Part([], 0.0) if small else heading(isolated(chart.title), width, greys)
    marks = Part([], 0.0) if small else key(_key(chart, greys), width, head.bottom, greys)
    top, left = marks.bottom + 26.0, room_beside([_duv_mark(-0.0125)])

    def panel_of(height: float) -> Panel:
        return _panel(chart, Box(left, top, width - MARGIN, top + height))

    field = labelled(
        panel_of,
        lambda panel: Field(_points(chart, panel), _taken(chart, panel), _lines(chart, panel)),
        height=width * (_HEIGHT_OF_WIDTH_SMALL if small else _HEIGHT_OF_WIDTH),
        greys=greys,
    )
    body = [*head.elements, *marks.elements, *_axes(chart, field.panel, greys)]
    body += _tolerances(chart, field.panel, greys)
    for each in chart.lights:
        body += _light(each, field.panel, greys)
    body += field.elements
    foot = _foot(chart, field, width, greys, small=small)
    return picture(
        width,
        foot.bottom + MARGIN,
        [*body, *foot.elements],
        title=chart.title,
        described=described(chart),
        greys=greys,
    )


def _panel(chart: LightsChart, box: Box) -> Panel:
    """The field, its window chosen from the data."""
    across: list[float | None] = []
    up: list[float | None] = []
    for each in chart.lights:
        for colour in _shown(each):
            across.append(colour.mired)
            up.append(colour.duv)
        if each.aim_mired is not None:
            low, high = each.tolerance.mired_low, each.tolerance.mired_high
            across += [each.aim_mired + low, each.aim_mired + high]
            up += [each.aim_duv - each.tolerance.duv, each.aim_duv + each.tolerance.duv]
        across += each.band_mired or ()
        up += each.band_duv or ()
    (cool, warm), _ = window(
        (each * 1.04 for each in finite(across)),
        least=(-_LEAST_MIRED, _LEAST_MIRED),
        most=(-MOST_MIRED, MOST_MIRED),
        steps=(5.0, 10.0, 25.0, 50.0),
    )
    (magenta, green), _ = window(
        (each * 1.08 for each in finite(up)),
        least=(-_LEAST_DUV, _LEAST_DUV),
        most=(-MOST_DUV, MOST_DUV),
        steps=(0.001, 0.0025, 0.005),
    )
    return Panel(
        box,
        Scale(cool, warm, box.left, box.right),
        Scale(magenta, green, box.bottom, box.top),
    )


def _shown(each: LightMove) -> list[Colour]:
    """The colours of a light that have a place: bare, then as it hangs if that is another."""
    every = [each.bare, *([each.hung] if each.hung and each.changed else [])]
    return [colour for colour in every if _has_place(colour)]


def _has_place(colour: Colour | None) -> bool:
    return colour is not None and colour.mired is not None and colour.duv is not None


def _at(colour: Colour, panel: Panel) -> Point:
    return panel.at(colour.mired or 0.0, colour.duv or 0.0)


def _out(colour: Colour, panel: Panel) -> Point | None:
    return panel.beyond(colour.mired or 0.0, colour.duv or 0.0)


def _points(chart: LightsChart, panel: Panel) -> list[Named]:
    """What is labelled: each light where it ends up, and where it begins if that is outside."""
    points = []
    for each in chart.lights:
        colours = _shown(each)
        for colour in colours:
            last = colour is colours[-1]
            outside = _out(colour, panel) is not None
            if not (last or outside):
                continue
            x, y = _at(colour, panel)
            told = tuple(say(colour).split(", ")) if outside else ()
            told = ("bare", *told) if told and not last else told
            radius = ARROW_PX if outside else RING_PX + 1.0
            name = each.name if last else ""
            points.append(Named(x, y, radius, each.number, name, told, bold=not each.inside))
    return points


def _lines(chart: LightsChart, panel: Panel) -> list[Segment]:
    """From each ring to its dot."""
    lines = []
    for each in chart.lights:
        places = [_at(colour, panel) for colour in _shown(each)]
        lines += [(places[0], places[1])] if len(places) == 2 else []
    return lines


def _taken(chart: LightsChart, panel: Panel) -> list[Box]:
    """Where a ring stands that has no label of its own."""
    boxes = []
    for each in chart.lights:
        for colour in _shown(each)[:-1]:
            x, y = _at(colour, panel)
            boxes.append(Box(x - RING_PX, y - RING_PX, x + RING_PX, y + RING_PX))
    return boxes


def _axes(chart: LightsChart, panel: Panel, greys: Greys) -> list[str]:
    _, step = window([], least=(panel.x.low, panel.x.high), most=(-1e3, 1e3), steps=(5, 10, 25, 50))
    _, rise = window(
        [], least=(panel.y.low, panel.y.high), most=(-1, 1), steps=(0.001, 0.002, 0.0025, 0.005)
    )
    across = [(each, _mired_mark(each)) for each in panel.x.marks(step)]
    up = [(each, _duv_mark(each)) for each in panel.y.marks(rise)]
    parts = grid(panel, greys, across=across, up=up, strong=(0.0, 0.0))
    at_balance = 1e6 / chart.balance_k
    over = [
        (panel.x.at(each), f"{kelvin(at_balance + each):.0f} K")
        for each, _ in across
        if at_balance + each > 10.0
    ]
    return parts + names_below(
        over, panel.box.top - 7.0, (panel.box.left, about(panel.box)[1]), greys
    )


def _mired_mark(mired: float) -> str:
    return "the balance" if round(mired) == 0 else say_mired(mired).replace(" mired", "")


def _duv_mark(duv: float) -> str:
    if abs(duv) < 1e-9:
        return "Duv 0"
    return f"{abs(duv):.4f}".rstrip("0") + (" green" if duv > 0 else " magenta")


def _tolerances(chart: LightsChart, panel: Panel, greys: Greys) -> list[str]:
    """An outline about each aim, one for lights that share it."""
    dashes = _dashes(chart)
    seen: dict[tuple[float, float, Tolerance], None] = {}
    for each in chart.lights:
        if each.aim_mired is not None and each.hung is not None:
            seen[round(each.aim_mired, 1), round(each.aim_duv, 4), each.tolerance] = None
    parts = []
    for mired, duv, allowed in seen:
        left, top = panel.at(mired + allowed.mired_low, duv + allowed.duv)
        right, bottom = panel.at(mired + allowed.mired_high, duv - allowed.duv)
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        if right > left and bottom > top:
            parts.append(path(corners, stroke=greys.soft, dash=dashes[allowed], closed=True))
    return parts


def _dashes(chart: LightsChart) -> dict[Tolerance, str]:
    every = sorted(
        {each.tolerance for each in chart.lights},
        key=lambda each: (_ROLES.index(each.role) if each.role in _ROLES else 9, each.mired_high),
    )
    return {each: _DASHES[number % len(_DASHES)] for number, each in enumerate(every)}


def _light(each: LightMove, panel: Panel, greys: Greys) -> list[str]:
    """One light: a ring where it is bare, a dot where it hangs, a line between, its band."""
    colours = _shown(each)
    if not colours:
        return []
    places = [_at(colour, panel) for colour in colours]
    parts = [line(places[0], places[1], greys.line, width=1.2)] if len(places) == 2 else []
    parts += _band(each, panel, greys)
    for colour, place in zip(colours, places, strict=True):
        parts.append(
            light_mark(
                place, colour.fill, greys, bare=colour is each.bare, away=_out(colour, panel)
            )
        )
    return [titled(parts, f"{each.number} {isolated(each.name)}: {say_hung(each)}")]


def _band(each: LightMove, panel: Panel, greys: Greys) -> list[str]:
    """A thin cross through the light as it hangs, from the 5th to the 95th percentile."""
    colour = each.hung if each.changed else each.bare
    if colour is None or not _has_place(colour) or _out(colour, panel) is not None:
        return []
    x, y = _at(colour, panel)
    parts = []
    if each.band_mired is not None:
        low, high = panel.x.ends(*each.band_mired)
        parts.append(line((low, y), (high, y), greys.soft))
    if each.band_duv is not None:
        low, high = panel.y.ends(*each.band_duv)
        parts.append(line((x, low), (x, high), greys.soft))
    return parts


def _key(chart: LightsChart, greys: Greys) -> list[tuple[Sample, str]]:
    entries = [(bare_sample(greys), "bare"), (hung_sample(greys), "as it hangs")]
    if any(each.band_mired is not None for each in chart.lights):
        entries.append((cross_sample(greys.soft), "nine in ten of what it may be"))
    for allowed, dash in _dashes(chart).items():
        entries.append((outline_sample(greys.soft, dash), f"{allowed.role} {allowed.say()}"))
    return entries


def _foot(chart: LightsChart, field: Labelled, width: float, greys: Greys, *, small: bool) -> Part:
    """Names by number where they are not in the picture, then the lights that have no place."""
    foot = Part([], field.panel.box.bottom + 24.0)
    if not small:
        foot = paragraph(_READ_AS, width, foot.bottom, greys)
    entries = [Entry(each.number, isolated(each.name)) for each in chart.lights]
    return footed(
        foot,
        width,
        greys,
        entries=entries if field.listed else [],
        texts=_left_out(chart.lights),
    )


def _left_out(lights: Sequence[LightMove]) -> list[str]:
    if not lights:
        return ["There is no light to show."]
    off = [each for each in lights if each.hung is None]
    bare = [each for each in lights if not _has_place(each.bare)]
    hung = [each for each in lights if each.hung and each.changed and not _has_place(each.hung)]
    return [
        f"{what}: {listed([f'{each.number} {isolated(each.name)}' for each in those])}."
        for what, those in (
            ("Switched off", off),
            ("Without a colour temperature when bare, so not in the chart", bare),
            ("Without a colour temperature as it hangs, so not in the chart", hung),
        )
        if those
    ]
