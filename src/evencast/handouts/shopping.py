"""What the packing and shopping list says."""

from __future__ import annotations

from dataclasses import dataclass

LAYOUT = "shopping"

COLUMNS = (
    "section",
    "item",
    "count",
    "unit",
    "stock_id",
    "form",
    "width_mm",
    "length_mm",
    "used_for",
    "note",
)
"""Of shopping.csv; `docs/hand-outs.md` says what is in each. New ones come at the end."""

SPARES = "1 to 2 spare of every piece before a hot lamp, where sheets burn (common practice)."

ALWAYS = (
    "grease pencil or marker, adhesive labels",
    "knife, straight edge, a board to cut on",
    "leather gloves: scrims, frames and doors stay hot for minutes",
    "grey card and chart",
)
FOR_FRAMES = ("pegs and metal clips", "black wrap for stray light")
FOR_WINDOWS = (
    "double-sided tape for frames of windows, thin clear tape for joints: none in the picture area",
    "spray bottle with water and a drop of detergent, squeegee, cloth",
)
FOR_TUBES = ("clips or ties for sleeves, off the ends of the tubes",)
OVERHEAD = ("safety bonds for whatever hangs overhead, sandbags for stands",)
STORAGE = ("pouches with card dividers, one for each grade, tissue between sheets",)
"""Expendables: common practice, no source, and no amounts."""


@dataclass(frozen=True, slots=True)
class ShoppingRow:
    """One line to tick.

    section  : "pack", "buy", "spare", "swap", "scrim" or "expendable"; of the CSV
    item     : what it is called; to buy, a generic name
    count    : how many; None where no amount is said
    unit     : "roll", "sheets", "pieces", ...; "" for expendables
    stock_id : what is written on it; "" where nothing is
    form     : "sheet", "roll" or "offcut"; "" for what is no sheet
    width_mm, length_mm : of one; None where it has no size here
    size     : the same in words
    used_for : what comes out of it, or which light it is for
    note     : what else to know
    """

    section: str
    item: str
    count: int | None
    unit: str = ""
    stock_id: str = ""
    form: str = ""
    width_mm: float | None = None
    length_mm: float | None = None
    size: str = ""
    used_for: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class AtOnce:
    """How much of one filter hangs at one time.

    filter : its name
    setups : pieces in each set-up, in the plan's order; empty where they are too many to show
    most   : the greatest of these
    all    : pieces to cut for all of them
    """

    filter: str
    setups: list[int]
    most: int
    all: int


@dataclass(frozen=True, slots=True)
class Shopping:
    """The packing and shopping list of a job.

    plan    : its name
    setups  : their names; empty for the plan itself
    told    : what it comes to, in a sentence
    kit     : name of the kit
    pack, buy, swaps, scrims, spares : rows to tick
    spares_told : how many spares, in a sentence
    worth   : what one sheet more would do, and what views lack, in sentences
    at_once : empty where there is one set-up
    at_once_in : set-ups that have a column there
    expendables : texts
    """

    plan: str
    setups: list[str]
    told: str
    kit: str
    pack: list[ShoppingRow]
    buy: list[ShoppingRow]
    spares: list[ShoppingRow]
    spares_told: str
    swaps: list[ShoppingRow]
    scrims: list[ShoppingRow]
    worth: list[str]
    at_once: list[AtOnce]
    at_once_in: list[str]
    expendables: list[str]
