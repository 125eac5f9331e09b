"""Writes photometric files for the tests: invented lights only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from evencast.quantities import Floats

DOWN_DEG: Floats = np.arange(0.0, 91.0, 5.0)
ALL_DEG: Floats = np.arange(0.0, 181.0, 5.0)


@dataclass
class Written:
    """What a test wants a file of LM-63 to say; the candelas before any multiplier."""

    vertical_deg: Floats
    planes_deg: Floats
    candelas: Floats
    first_line: str = "IESNA:LM-63-2002"
    keywords: Sequence[str] = ("[TEST] 7", "[MANUFAC] nobody", "[LUMINAIRE] shed lamp")
    tilt: str = "TILT=NONE"
    lamps: int = 1
    lumens: float = 1000.0
    multiplier: float = 1.0
    units: int = 2
    opening: Sequence[float] = (0.2, 0.1, 0.0)
    factors: Sequence[float] = (1.0, 1.0)
    watts: float = 100.0
    kind: int = 1
    end: str = "\n"
    counts: Sequence[int] = field(default=())


def lm63(written: Written, *, per_line: int = 10, separator: str = " ") -> str:
    """The text of the file; every number in full."""
    counts = written.counts or (len(written.vertical_deg), len(written.planes_deg))
    rows = [
        [
            written.lamps,
            written.lumens,
            written.multiplier,
            *counts,
            written.kind,
            written.units,
            *written.opening,
        ],
        [*written.factors, written.watts],
        written.vertical_deg,
        written.planes_deg,
        *written.candelas,
    ]
    lines = [written.first_line, *written.keywords, *written.tilt.split("\n")]
    for row in rows:
        texts = [repr(float(each)) if each != int(each) else str(int(each)) for each in row]
        lines += [
            separator.join(texts[at : at + per_line]) for at in range(0, len(texts), per_line)
        ]
    return written.end.join(lines) + written.end


def cosine(intensity_cd: float = 1000.0, *, vertical_deg: Floats = DOWN_DEG) -> Written:
    """A flat emitter that looks equally bright from everywhere (Lambert): I0 cos."""
    values = intensity_cd * np.maximum(np.cos(np.radians(vertical_deg)), 0.0)
    return Written(vertical_deg, np.zeros(1), values[None])


def lopsided(
    planes_deg: Floats, *, vertical_deg: Floats = ALL_DEG, turn_deg: float = 30.0
) -> Written:
    """A light aimed at a slant toward `turn_deg`, some of it going up."""
    down, round_ = np.meshgrid(np.radians(vertical_deg), np.radians(planes_deg - turn_deg))
    slant = np.sin(down) * np.cos(round_) * 0.5 + np.cos(down) * 0.8
    return Written(vertical_deg, planes_deg, 50.0 + 900.0 * np.exp(2.5 * (slant - 1.0)))


@dataclass
class WrittenLdt:
    """What a test wants a file in EULUMDAT to say; values per 1000 lumens as they stand."""

    vertical_deg: Floats
    planes_deg: Floats
    values: Floats
    symmetry: int = 0
    lamps: int = 1
    lumens: float = 1000.0
    factor: float = 1.0
    watts: float = 100.0
    opening_mm: Sequence[float] = (100.0, 200.0)
    sets: int = 1


def eulumdat(written: WrittenLdt, *, end: str = "\r\n", mark: str = ".") -> str:
    """The text of the file; every number in full, decimal mark as given."""
    first: list[float | str] = [
        "nobody",
        1,
        written.symmetry,
        len(written.planes_deg),
        0,
        len(written.vertical_deg),
    ]
    first += [0, "7", "shed lamp", "1", "shed", "2031-05-04", 300, 200, 100, *written.opening_mm]
    first += [0, 0, 0, 0, 100, 80, written.factor, 0, written.sets]
    lamp: list[float | str] = [written.lamps, "bulb", written.lumens, "3200", "1A", written.watts]
    numbers: list[float | str] = [*first, *lamp * written.sets, *[0.5] * 10]
    numbers += [*written.planes_deg, *written.vertical_deg, *written.values.ravel()]
    texts = [each if isinstance(each, str) else repr(float(each)) for each in numbers]
    lines = [
        text.removesuffix(".0").replace(".", mark) if not isinstance(each, str) else text
        for text, each in zip(texts, numbers, strict=True)
    ]
    return end.join(lines) + end
