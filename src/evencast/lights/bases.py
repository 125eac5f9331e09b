"""The spectra that stand for a kind of light when only a reading is known."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

import numpy as np

from evencast.colour import Locus, white
from evencast.lights.catalogue import builtin_of_kind
from evencast.lights.kinds import kinds_in
from evencast.quantities import Floats
from evencast.spectra.daylight import HIGHEST_K, LOWEST_K

STAND_INS = {"HMI": ("metal halide", "xenon"), "xenon": ("xenon", "daylight")}
"""Kinds of which too few lamps are built in, and the kinds that stand in for them."""


@dataclass(frozen=True, slots=True, eq=False)
class Bases:
    """Spectra to be bent to a reading.

    names : of the lamps, (n,)
    kinds : the kind each stands for, (n,); those of one kind lie together
    power : (n, 81)
    """

    names: tuple[str, ...]
    kinds: tuple[str, ...]
    power: Floats

    def without(self, names: Collection[str]) -> Bases:
        """The same but for some lamps."""
        return self.where([name not in names for name in self.names])

    def where(self, kept: Collection[bool]) -> Bases:
        """Those marked True."""
        pairs = list(zip(kept, self.names, self.kinds, strict=True))
        return replace(
            self,
            names=tuple(name for keep, name, _ in pairs if keep),
            kinds=tuple(kind for keep, _, kind in pairs if keep),
            power=self.power[np.array([keep for keep, _, _ in pairs], dtype=bool)],
        )


def bases_of(kind: str, cct_k: float) -> Bases:
    """Every spectrum that a light of that kind and Kelvin may be like.

    kind  : a LightKind; "tube" gives three kinds, "unknown" all but discharge lamps
    cct_k : the reading, for the whites that tungsten and daylight follow
    """
    found = [(each, *pair) for each in kinds_in(kind) for pair in _of_one_kind(each, cct_k)]
    return Bases(
        names=tuple(name for _, name, _ in found),
        kinds=tuple(kind for kind, _, _ in found),
        power=np.stack([power for _, _, power in found]),
    )


def _of_one_kind(kind: str, cct_k: float) -> list[tuple[str, Floats]]:
    """Names and spectra. A panel of two emitters is left out: both are lamps of the list."""
    lamps = [
        (light.name, light.power)
        for each in STAND_INS.get(kind, (kind,))
        for light in builtin_of_kind(each)
        if not light.emitters
    ]
    return lamps + [(f"{locus} white", white(cct_k, locus=locus)) for locus in _loci(kind, cct_k)]


def _loci(kind: str, cct_k: float) -> tuple[Locus, ...]:
    if kind == "tungsten":
        return ("planckian",)
    if kind not in ("daylight", "xenon"):
        return ()
    return ("daylight", "planckian") if LOWEST_K <= cct_k <= HIGHEST_K else ("planckian",)
