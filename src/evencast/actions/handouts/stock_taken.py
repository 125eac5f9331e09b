"""What a kit's stock gives for all set-ups of a plan: which sheets, what is short or spare."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from evencast.actions.handouts.cuts import Owned, cuts, kit_entry, known_pieces, stock_in
from evencast.actions.handouts.job import Job
from evencast.cutting.count import Piece, StockItem, fits, joined
from evencast.cutting.layout import Taken, layout
from evencast.handouts.shopping import ShoppingRow
from evencast.handouts.sizes import say_size_alone
from evencast.plan.kit import KitFilter
from evencast.quantities import listed, say_stops

MOST_MORE = 64
"""Nobody buys more sheets of one filter than these for one plan."""

NOT_COUNTED = "the kit does not count it: look what there is"
NOT_IN_KIT = "not in the kit"
NOT_LAID = "all of it fits, but from which sheets is not worked out here: take all"
TOO_LARGE = "more or larger than the kit's sheets yield: find it in another form"
IN_TURN = "each set-up alone comes out of the stock: cutting again what comes down saves it"
MEASURE = "size to be measured"


@dataclass(frozen=True, slots=True)
class FilterTaken:
    """What is packed, bought and cut as spare of one filter."""

    pack: list[ShoppingRow]
    buy: list[ShoppingRow]
    spares: list[ShoppingRow]


@dataclass(frozen=True, slots=True, eq=False)
class _Wanted:
    """Pieces of one filter for all set-ups.

    entry, stock : the kit's; None where it has none, and where it does not count it
    """

    job: Job
    name: str
    mine: Sequence[Owned]
    entry: KitFilter | None
    stock: tuple[StockItem, ...] | None

    @property
    def pieces(self) -> list[Piece]:
        """Of known size, one by one."""
        return [each.cut.piece for each in self.mine if each.cut.piece for _ in range(each.count)]

    @property
    def burning(self) -> list[Piece]:
        """One of each that may burn."""
        found = [each.cut.piece for each in self.mine if each.cut.piece and each.cut.burns]
        return list(dict.fromkeys(found))

    def said(self, piece: Piece) -> str:
        """A piece by size and marks: "170 × 170 mm (1a)"."""
        marks = dict.fromkeys(each.cut.mark for each in self.mine if each.cut.piece == piece)
        size = say_size_alone(piece.width_mm, piece.height_mm, self.job.wishes.paper)
        return f"{size} ({', '.join(marks)})"

    def counted(self, pieces: Sequence[tuple[Piece, int]]) -> list[str]:
        """ "3 of 1150 × 1550 mm (2a)" and so on."""
        return [f"{count} of {self.said(piece)}" for piece, count in pieces]


def filter_taken(job: Job, name: str, mine: Sequence[Owned]) -> FilterTaken:
    """What is packed and bought of a filter for its pieces in all set-ups."""
    part = job.parts[0]
    wanted = _Wanted(job, name, mine, kit_entry(part, name), stock_in(part, name))
    blank = _unmeasured(wanted)
    if wanted.entry is None or wanted.stock is None:
        section, note = ("pack", NOT_COUNTED) if wanted.entry else ("buy", NOT_IN_KIT)
        rows = _by_piece(wanted, section, note) + [replace(each, section=section) for each in blank]
        spares = _spares(wanted, None)
        return FilterTaken(rows, [], spares) if wanted.entry else FilterTaken([], rows, spares)
    more = _more(wanted.pieces, wanted.stock)
    if more is None:
        return FilterTaken(blank, _by_piece(wanted, "buy", TOO_LARGE), _spares(wanted, None))
    stock = list(wanted.stock)
    if more:
        stock.append(replace(_largest(stock), count=more))
    taken = layout(wanted.pieces, stock)
    kept = [
        row for at, each in enumerate(stock) if (row := _row(wanted, at, each, taken)) is not None
    ]
    return FilterTaken(
        pack=[each for each in kept if each.section == "pack"] + blank,
        buy=[each for each in kept if each.section == "buy"],
        spares=_spares(wanted, stock),
    )


def generic_name(entry: KitFilter) -> str:
    """What to ask for: the generic filter it is, or what is declared of it."""
    if entry.generic is not None:
        return entry.generic
    if entry.kelvin is not None:
        known = entry.kelvin
        turns = f"{known.from_k:.0f} K to {known.to_k:.0f} K"
        return f"{entry.role} sheet, {turns}, {say_stops(known.stops)}"
    return f"{entry.role} sheet like {entry.name}"


def _more(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> int | None:
    """How many of the largest items are missing; None where no number of them would do."""
    low, high = 0, MOST_MORE

    def do(count: int) -> bool:
        return fits(pieces, [*stock, replace(_largest(stock), count=count)])

    if do(low):
        return low
    if not do(high):
        return None
    while high - low > 1:
        half = (low + high) // 2
        low, high = (low, half) if do(half) else (half, high)
    return high


def _largest(stock: Sequence[StockItem]) -> StockItem:
    return max(stock, key=lambda each: each.width_mm * each.length_mm)


def _row(
    wanted: _Wanted, at: int, item: StockItem, taken: Sequence[Taken] | None
) -> ShoppingRow | None:
    """What is taken of one entry of the stock; the one after the kit's own is bought."""
    entry = wanted.entry
    if entry is None or not wanted.pieces:
        return None
    mine = [each for each in taken or () if each.entry == at]
    count = item.count if taken is None else len(mine)
    if not count:
        return None
    is_bought = at == len(entry.stock)
    own = None if is_bought else entry.stock[at]
    form = own.form if own else _form_of(entry, item)
    return ShoppingRow(
        section="buy" if is_bought else "pack",
        item=generic_name(entry) if is_bought else entry.name,
        count=count,
        unit=form if count == 1 else f"{form}s",
        stock_id=(own.id or "") if own else "",
        form=form,
        width_mm=item.width_mm,
        length_mm=item.length_mm,
        size=say_size_alone(item.width_mm, item.length_mm, wanted.job.wishes.paper),
        used_for=listed(_comes_out(wanted, item, mine)),
        note=NOT_LAID if taken is None else IN_TURN if is_bought and _in_turn(wanted) else "",
    )


def _form_of(entry: KitFilter, item: StockItem) -> str:
    """What an item of that size is in the kit; an offcut is not sold."""
    forms = [
        each.form
        for each in entry.stock
        if (each.width_mm, each.length_mm) == (item.width_mm, item.length_mm)
    ]
    return next((each for each in forms if each != "offcut"), "sheet")


def _comes_out(wanted: _Wanted, item: StockItem, taken: Sequence[Taken]) -> list[str]:
    whole: Counter[Piece] = Counter()
    parts: Counter[Piece] = Counter()
    for each in taken:
        whole.update(dict(each.whole))
        parts.update(dict(each.parts))
    told = wanted.counted(list(whole.items()))
    for piece, count in parts.items():
        strips = joined(piece, item)
        if strips is not None:
            size = say_size_alone(strips.width_mm, strips.height_mm, wanted.job.wishes.paper)
            told.append(f"{count} strips of {size} for {wanted.said(piece)}")
    return told


def _in_turn(wanted: _Wanted) -> bool:
    """Whether the pieces of every set-up by itself come out of the kit's stock."""
    found = [[each for each in mine if each.filter == wanted.name] for mine in cuts(wanted.job)]
    return all(fits(known_pieces(mine), wanted.stock or ()) for mine in found)


def _by_piece(wanted: _Wanted, section: str, note: str) -> list[ShoppingRow]:
    """Rows of pieces where no sheet is known that they come out of."""
    name = generic_name(wanted.entry) if wanted.entry and section == "buy" else wanted.name
    return [
        ShoppingRow(
            section=section,
            item=name,
            count=count,
            unit="piece" if count == 1 else "pieces",
            used_for=wanted.said(piece),
            note=note,
        )
        for piece, count in Counter(wanted.pieces).items()
    ]


def _unmeasured(wanted: _Wanted) -> list[ShoppingRow]:
    """A row for the pieces whose size the plan does not say."""
    blank = [each for each in wanted.mine if each.cut.piece is None]
    count = sum(each.count for each in blank)
    if not count:
        return []
    marks = ", ".join(dict.fromkeys(each.cut.mark for each in blank))
    unit = "piece" if count == 1 else "pieces"
    return [ShoppingRow("pack", wanted.name, count, unit, used_for=marks, note=MEASURE)]


def _spares(wanted: _Wanted, stock: Sequence[StockItem] | None) -> list[ShoppingRow]:
    """One row for each size of piece that may burn.

    stock : with what is bought; None where it is not known what there is
    """
    burning = wanted.burning
    note = "1 to 2"
    if burning and stock is not None:
        yields = fits([*wanted.pieces, *burning], stock)
        note += "; one of each comes out of the stock too" if yields else "; not all in stock"
    return [
        ShoppingRow("spare", wanted.name, 1, "piece", used_for=wanted.said(piece), note=note)
        for piece in burning
    ]
