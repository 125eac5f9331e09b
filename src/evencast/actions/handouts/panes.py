"""`panes`: every pane and frame to cover, light by light, for whoever cuts and hangs."""

from __future__ import annotations

from evencast.actions.handouts.cuts import Cut, cuts, known_pieces, stock_in
from evencast.actions.handouts.job import Job, Made, Part
from evencast.actions.handouts.minds import minds
from evencast.cutting.count import Piece, joined, most_of
from evencast.cutting.pieces import WINDOW_MARGIN_MM, area_m2
from evencast.cutting.stock import explain
from evencast.cutting.ways import LAP_MM
from evencast.handouts.panes import (
    CAUTION,
    LAYOUT,
    RULES,
    FilterTotal,
    PaneLight,
    PaneRow,
    Panes,
    PanesSetup,
)
from evencast.handouts.sizes import say_size, say_size_alone
from evencast.handouts.typeset import Paper
from evencast.plan.setup import Rigged
from evencast.plan.setups import hung_on, light_in
from evencast.quantities import listed, many

OVER = (
    "Cut a piece for a frame a little under its size, so that it drops in; a piece for a window a "
    f"little over: the sizes of panes reach {WINDOW_MARGIN_MM:g} mm over the glass on every side."
)
MEASURE = "measure: _____ × _____"
MOST_BOXES = 3
"""So many boxes stand side by side in a cell; more are counted by hand."""


def made(job: Job) -> list[Made]:
    """panes.pdf."""
    every = [_setup(job, part, found) for part, found in zip(job.parts, cuts(job), strict=True)]
    rules = [OVER, *RULES] if any(each.lights for each in every) else []
    content = Panes(job.name, every, rules)
    return [job.typeset("panes.pdf", LAYOUT, f"Panes and frames: {job.name}", content)]


def _setup(job: Job, part: Part, found: list[Cut]) -> PanesSetup:
    by_light: dict[str, list[Cut]] = {}
    for each in found:
        by_light.setdefault(each.light, []).append(each)
    paper = job.wishes.paper
    warned = minds(part, by_light)
    if any(each.opening == "pane" for each in found):
        warned.append(CAUTION)
    return PanesSetup(
        name=part.name,
        told=_told(part, found),
        lights=[_light(part, mine, paper) for mine in by_light.values()],
        totals=[_total(part, name, found) for name in dict.fromkeys(f.filter for f in found)],
        minds=warned,
    )


def _told(part: Part, found: list[Cut]) -> str:
    answer = part.answer
    at = answer.balance.label if answer.balance.cct_k is None else f"{answer.balance.cct_k:.0f} K"
    frost = sum(each.count for each in found if each.is_frost)
    if not found:
        return f"Balance {at}. Nothing is to be cut here: no light takes a sheet."
    sheets = f"{many(answer.pieces, 'piece')} of sheet, {answer.area_m2:.1f} m²"
    also = f"{many(frost, 'piece')} of frost" if frost else ""
    told = listed([each for each in (sheets if answer.pieces else "", also) if each])
    blank = sum(each.count for each in found if each.piece is None)
    open_ = f" Of {many(blank, 'piece')} the size is to be measured." if blank else ""
    return f"Balance {at}. {told}.{open_}"


def _light(part: Part, mine: list[Cut], paper: Paper) -> PaneLight:
    first = mine[0]
    planned = next(each for each in part.answer.lights if each.name == first.light)
    openings = {each.mark: each.openings for each in mine}
    frost = dict.fromkeys(each.filter for each in mine if each.is_frost)
    parts = [
        planned.role,
        many(sum(openings.values()), first.opening),
        " + ".join([*planned.filters, *frost]),
    ]
    rigged = hung_on(light_in(part.setup, first.light))
    if isinstance(rigged, Rigged) and list(rigged.filters) != planned.filters:
        parts.append(f"rigged there is {' + '.join(rigged.filters) or 'no sheet'}")
    return PaneLight(
        head=f"{first.number}  {first.light}",
        sub=" · ".join(parts),
        rows=[_row(part, each, paper) for each in mine],
    )


def _row(part: Part, cut: Cut, paper: Paper) -> PaneRow:
    piece = cut.piece
    glass = ""
    about = [f"{cut.copies} in each {cut.opening}"] if cut.copies > 1 else []
    if cut.lit_mm is not None:
        about.append(
            f"hangs off the light, lit {cut.lit_mm:g} mm wide: cut it for what it hangs on"
        )
    if piece is not None and cut.opening == "pane" and cut.sides_mm is not None:
        glass = f"glass {say_size_alone(*cut.sides_mm, paper)}"
        about += _strips(part, cut, piece, paper)
    size = say_size(piece.width_mm, piece.height_mm, paper) if piece else MEASURE
    first, _, second = size.partition(" (")
    return PaneRow(
        mark=cut.mark,
        filter=cut.filter,
        size=first,
        metric=second.removesuffix(")"),
        glass=glass,
        count=cut.count,
        about=about,
        boxes=cut.count if cut.count <= MOST_BOXES else 0,
    )


def _strips(part: Part, cut: Cut, piece: Piece, paper: Paper) -> list[str]:
    """How a pane is made of strips, where the stock does not yield all of them whole."""
    stock = [each for each in stock_in(part, cut.filter) or () if each.count]
    whole = most_of(Piece(piece.width_mm, piece.height_mm), stock)
    if whole >= cut.count:
        return []
    found = {made for item in stock if (made := joined(piece, item)) is not None}
    told = []
    for each in sorted(found):
        edges = "upper and lower" if each.width_mm >= piece.width_mm - 0.1 else "left and right"
        size = say_size_alone(each.width_mm, each.height_mm, paper)
        told.append(
            f"{each.parts} strips of {size}, joined at their {edges} edges, {LAP_MM:g} mm over "
            "each other"
        )
    also = f"at most {whole} whole, the others of " if whole and told else ""
    return [also + " or ".join(told)] if told else []


def _total(part: Part, name: str, found: list[Cut]) -> FilterTotal:
    mine = [each for each in found if each.filter == name]
    pieces = known_pieces(mine)
    stock = stock_in(part, name)
    if part.loaded.kit.find(name) is None:
        yields = "It is not in the kit."
    elif stock is None:
        yields = "The kit does not count it: look before you cut."
    else:
        yields = explain(pieces, stock) if pieces else ""
    blank = sum(each.count for each in mine if each.piece is None)
    if blank:
        yields += f" {many(blank, 'piece')} to be measured first."
    return FilterTotal(
        filter=name,
        pieces=sum(each.count for each in mine),
        area=f"{area_m2(pieces):.2f} m²" if pieces else "",
        yields=yields.strip(),
    )
