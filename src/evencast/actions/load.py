"""`load`: the amps of a set of loads against a breaker, and how to share them out."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from evencast.actions.taking import positive
from evencast.errors import EvencastError
from evencast.results.expose import Circuit, LoadAnswer

MOST_PIECES = 1000
ROUNDING = 1e-9
"""What adding up may be off by, as a share: a circuit filled to its limit fits."""

ELECTRICIAN = (
    "Mains: local code decides, and a competent electrician. Read amps and power factor off the "
    "plate of every ballast, driver and LED: lamp watts are not what they draw."
)
WEAKEST = (
    "A plug's limit is the weakest of plug, extension and block: check each one's own rating. "
    "Uncoil reels. On wet ground use residual-current protection."
)
SHARED = (
    "Find out what else hangs on the circuit, a kettle or a fridge: it counts too, and so does "
    "the start of a discharge lamp, which draws more than it runs on."
)
_LOAD = re.compile(
    r"(?:(?P<count>\d+)\s*x\s*)?(?P<watts>\d*\.?\d+)\s*(?P<kilo>k)?w?(?:\s+pf\s*(?P<factor>\d*\.?\d+))?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Piece:
    """One load: what it is called, its watts, and its volt-amperes.

    watts : None where its plate says amps alone
    """

    name: str
    watts: float | None
    volt_amperes: float


def load(
    load_texts: Sequence[str], *, volts: float, breaker_a: float, margin_percent: float
) -> LoadAnswer:
    """Whether one circuit carries the loads.

    load_texts : "650", "2x650", "1.2kW pf 0.6"
    Raises  EvencastError for zeros, and power factors above 1
    """
    positive(volts, where="--volts", example="230")
    positive(breaker_a, where="--breaker", example="16")
    margin = _margin(margin_percent)
    pieces = [piece for text in load_texts for piece in _pieces(text)]
    check_number(len(pieces), where="LOAD")
    return on_one_circuit(
        pieces, volts=volts, breaker_a=breaker_a, margin=margin, changed_by="--margin"
    )


def on_one_circuit(
    pieces: Sequence[Piece], *, volts: float, breaker_a: float, margin: float, changed_by: str
) -> LoadAnswer:
    """What loads draw from one circuit, whether it carries them, and else how to share them out.

    margin     : share of the breaker to use, above 0 to 1
    changed_by : the option or key that sets it, for the note
    """
    amps = _volt_amperes(pieces) / volts
    limit_a = breaker_a * margin
    fits = amps <= limit_a * (1 + ROUNDING)
    split = [] if fits else _split(pieces, limit_va=limit_a * volts)
    watts = [each.watts for each in pieces if each.watts is not None]
    return LoadAnswer(
        volts=volts,
        breaker_a=breaker_a,
        margin=margin,
        watts=round(sum(watts), 3) if len(watts) == len(pieces) else None,
        amps=round(amps, 4),
        limit_a=round(limit_a, 4),
        left_a=round(limit_a - amps, 4),
        fits=fits,
        split=[
            Circuit([each.name for each in part], round(_volt_amperes(part) / volts, 4))
            for part in split
        ],
        notes=_notes(margin, pieces, fits=fits, split=split, changed_by=changed_by),
        cautions=[ELECTRICIAN, WEAKEST, SHARED],
    )


def check_number(count: int, *, where: str) -> None:
    """Raises  EvencastError for more loads than are worth sharing out."""
    if count > MOST_PIECES:
        raise EvencastError(
            f"{count} loads are more than any circuit is asked to carry",
            where=where,
            remedy=f"Give at most {MOST_PIECES}.",
        )


def _margin(percent: float) -> float:
    if not 0 < percent <= 100:
        raise EvencastError(
            f"a margin of {percent:g} percent is none that a breaker holds",
            where="--margin",
            remedy="Write the share of the breaker to use, above 0 to 100; 80 is usual for hours.",
        )
    return percent / 100.0


def _pieces(text: str) -> list[Piece]:
    match = _LOAD.fullmatch(text.strip())
    if match is None:
        raise EvencastError(
            f'"{text}" is not a load', where="LOAD", remedy='Write 650, 2x650 or "1.2kW pf 0.6".'
        )
    count = int(positive(float(match["count"] or 1), where=text, example="2x650"))
    watts = positive(float(match["watts"]), where=text, example="650")
    watts *= 1000.0 if match["kilo"] else 1.0
    factor = positive(float(match["factor"] or 1), where=text, example="pf 0.6")
    if factor > 1:
        raise EvencastError(
            f"a power factor of {factor:g} is above 1",
            where=text,
            remedy="Write the one on the plate, such as pf 0.6; leave it out for tungsten.",
        )
    check_number(count, where=text)
    return [Piece(f"{watts:g} W", watts, watts / factor)] * count


def _split(pieces: Sequence[Piece], *, limit_va: float) -> list[list[Piece]]:
    """The loads over as few circuits as a simple rule finds, largest first on the emptiest; none
    where one load alone is too much."""
    largest_first = sorted(pieces, key=lambda each: -each.volt_amperes)
    if largest_first[0].volt_amperes > limit_va:
        return []
    fewest = max(2, int(_volt_amperes(pieces) / limit_va))
    for count in range(fewest, len(pieces) + 1):
        circuits = _shared_out(largest_first, count)
        if all(_volt_amperes(each) <= limit_va * (1 + ROUNDING) for each in circuits):
            break
    return circuits


def _shared_out(largest_first: Sequence[Piece], count: int) -> list[list[Piece]]:
    circuits: list[list[Piece]] = [[] for _ in range(count)]
    emptiest_first = [(0.0, number) for number in range(count)]
    for piece in largest_first:
        drawn, number = heappop(emptiest_first)
        circuits[number].append(piece)
        heappush(emptiest_first, (drawn + piece.volt_amperes, number))
    return circuits


def _volt_amperes(pieces: Sequence[Piece]) -> float:
    return sum(each.volt_amperes for each in pieces)


def _notes(
    margin: float,
    pieces: Sequence[Piece],
    *,
    fits: bool,
    split: Sequence[object],
    changed_by: str,
) -> list[str]:
    notes = []
    if margin < 1:
        notes.append(
            f"{margin:.0%} of the breaker is used, for lamps that stay on for hours: common "
            f"practice, no source. {changed_by} changes it."
        )
    if any(each.watts is not None and each.volt_amperes > each.watts for each in pieces):
        notes.append("A power factor below 1 draws more amps than its watts say.")
    if not fits and not split:
        notes.append("One load alone is too much for this circuit: it needs a larger one.")
    return notes
