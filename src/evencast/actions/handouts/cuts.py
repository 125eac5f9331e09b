"""The pieces of sheet that a plan takes, each with the mark it goes by on every list and label."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from evencast.actions.handouts.job import Job, Part
from evencast.cutting.count import Piece, StockItem
from evencast.cutting.pieces import pieces_of
from evencast.cutting.stock import stock_of
from evencast.lights import Light
from evencast.plan.light import Aperture
from evencast.plan.place import folded
from evencast.results.plan import PlannedLight

if TYPE_CHECKING:
    from evencast.plan.kit import KitFilter
    from evencast.plan.light import Light as LightEntry

OPENINGS = {"window": "pane", "tube": "sleeve"}
"""What a piece covers, by what the lamp sits in; else a frame."""

Sides = tuple[float, float] | None
"""Width and height of an opening, mm; None where the plan does not say."""


@dataclass(frozen=True, slots=True)
class Cut:
    """Equal pieces of one filter for equal openings of one light.

    mark     : number of the light, and a letter for each size of opening it has: "2a"; the same
               in every set-up
    opening  : "pane", "sleeve" or "frame"
    sides_mm : of the opening itself; None where the plan does not say
    piece    : to cut, a pane's larger than the glass; None where its size is not known
    openings : how many
    copies   : of this filter in each
    lit_mm   : width that is lit of a frost that hangs away from the light; else None
    burns    : whether it hangs before a hot lamp
    """

    mark: str
    number: int
    light: str
    filter: str
    opening: str
    sides_mm: Sides
    piece: Piece | None
    openings: int
    copies: int
    is_frost: bool
    lit_mm: float | None
    burns: bool

    @property
    def count(self) -> int:
        """Pieces."""
        return self.openings * self.copies


def cuts(job: Job) -> list[list[Cut]]:
    """The pieces of every set-up, light after light as the plan has them."""
    marks = _marks(job)
    return [
        [cut for planned in part.answer.lights for cut in _of_light(part, planned, marks)]
        for part in job.parts
    ]


def known_pieces(found: list[Cut]) -> list[Piece]:
    """All pieces whose size is known, one by one."""
    return [each.piece for each in found if each.piece for _ in range(each.count)]


def kit_entry(part: Part, name: str) -> KitFilter | None:
    """What the kit says of a filter; None where it is not in it."""
    document = part.loaded.kit.document
    wanted = folded(name)
    return next(
        (each for each in (document.filter if document else ()) if folded(each.name) == wanted),
        None,
    )


def stock_in(part: Part, name: str) -> tuple[StockItem, ...] | None:
    """What the kit has of a filter; None where it does not count it or does not know it."""
    entry = kit_entry(part, name)
    return stock_of(entry) if entry else None


def letters(place: int) -> str:
    """0 is "a", 25 is "z", 26 is "aa"."""
    before, here = divmod(place, 26)
    return (letters(before - 1) if before else "") + chr(ord("a") + here)


def _marks(job: Job) -> dict[tuple[str, Sides], str]:
    """Of every size of opening of every light; the plan's first, then what set-ups add."""
    found: dict[tuple[str, Sides], str] = {}
    counts: Counter[str] = Counter()
    for part in job.parts:
        for entry in part.loaded.plan.light:
            for sides, _ in _openings(entry):
                if (entry.name, sides) not in found:
                    letter = letters(counts[entry.name])
                    found[entry.name, sides] = f"{part.numbers[entry.name]}{letter}"
                    counts[entry.name] += 1
    return found


def _openings(entry: LightEntry) -> list[tuple[Sides, int]]:
    """Every size of opening and how many there are of it; of unknown size one for a fixture."""
    counts: Counter[Sides] = Counter()
    for each in entry.aperture:
        counts[each.width_mm, each.height_mm] += each.count * entry.count
    return list(counts.items()) or [(None, entry.count)]


def _of_light(
    part: Part, planned: PlannedLight, marks: Mapping[tuple[str, Sides], str]
) -> Iterator[Cut]:
    entry, bare = part.loaded.plan.light_named(planned.name), part.loaded.lights[planned.name]
    if entry is None or "switch off" in planned.move:
        return
    sheets = Counter(planned.filters)
    frost = [each for each in entry.frost if folded(each) not in map(folded, planned.filters)]
    for sides, openings in _openings(entry):
        for name, copies in (*sheets.items(), *Counter(frost).items()):
            is_frost = name not in sheets
            lit_mm = _lit_mm(entry, sides) if is_frost else None
            yield Cut(
                mark=marks[entry.name, sides],
                number=part.numbers[entry.name],
                light=entry.name,
                filter=name,
                opening=OPENINGS.get(bare.fitting, "frame"),
                sides_mm=sides,
                piece=None if lit_mm else _piece(entry, bare, sides),
                openings=openings,
                copies=copies,
                is_frost=is_frost,
                lit_mm=lit_mm,
                burns=bare.is_hot,
            )


def _lit_mm(entry: LightEntry, sides: Sides) -> float | None:
    """Width that is lit of a frost larger than the opening, so that it hangs away from it."""
    lit_mm = entry.frost_size_mm
    return lit_mm if lit_mm is not None and (sides is None or lit_mm > max(sides)) else None


def _piece(entry: LightEntry, bare: Light, sides: Sides) -> Piece | None:
    if sides is None:
        return None
    opening = Aperture(width_mm=sides[0], height_mm=sides[1])
    alone = entry.model_copy(update={"aperture": (opening,), "count": 1})
    return pieces_of(alone, bare.fitting)[0]


@dataclass(frozen=True, slots=True)
class Owned:
    """Pieces that are cut once and hang in one set-up after another.

    cut    : as it is where most of them hang
    count  : the most that hang at one time
    setups : names of the set-ups, in the plan's order
    """

    cut: Cut
    count: int
    setups: tuple[str, ...]


def owned(job: Job) -> list[Owned]:
    """What is to be cut for all set-ups together, by light: a piece for one light's opening is
    used again for that opening, and for no other."""
    found: dict[tuple[str, str, Piece | None], Owned] = {}
    for part, mine in zip(job.parts, cuts(job), strict=True):
        for cut in mine:
            key = (cut.mark, cut.filter, cut.piece)
            before = found.get(key, Owned(cut, 0, ()))
            most = cut if cut.count > before.count else before.cut
            found[key] = Owned(most, most.count, (*before.setups, part.name))
    return sorted(found.values(), key=lambda each: (each.cut.number, len(each.cut.mark)))
