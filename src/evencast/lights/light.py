"""A light: what lights the scene, and what is known of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencast.quantities import Floats
from evencast.spectra import Spectrum

Fitting = Literal["fixture", "household", "tube", "panel", "street", "window", ""]

LightKind = Literal[
    "tungsten",
    "daylight",
    "phosphor LED",
    "RGB LED",
    "three-band tube",
    "halophosphate tube",
    "broad-band tube",
    "tube",
    "HMI",
    "metal halide",
    "mercury",
    "high-pressure sodium",
    "low-pressure sodium",
    "xenon",
    "unknown",
]

HOT_KINDS = frozenset(
    {"tungsten", "HMI", "metal halide", "mercury", "high-pressure sodium", "xenon"}
)
DISCHARGE_KINDS = frozenset(
    {"HMI", "metal halide", "mercury", "high-pressure sodium", "low-pressure sodium", "xenon"}
)


GAPPED_KINDS = frozenset({"high-pressure sodium", "low-pressure sodium", "mercury", "RGB LED"})


@dataclass(frozen=True, slots=True, eq=False)
class Light:
    """One light.

    name    : as the person named it
    kind    : technology: tungsten, daylight, phosphor LED, three-band tube, ...; or Planckian,
              daylight, blend for a colour temperature; "unknown" for a bare reading
    power   : (81,) relative spectral power on the grid
    assumed : True where the spectrum was made up to fit a reading
    fitting : what it hangs in, for the cautions; "" when unknown
    note    : one sentence for the person, or ""
    spectrum : the samples it was measured at, for what needs more than the grid; None for a
               light made from numbers
    possible : (MEMBERS, 81) spectra that fit what is known as well; None if measured
    emitters : spectra a two-colour panel mixes, warm first, each (81,); () for other lights
    """

    name: str
    kind: str
    power: Floats
    assumed: bool = False
    fitting: Fitting = ""
    note: str = ""
    spectrum: Spectrum | None = None
    possible: Floats | None = None
    emitters: tuple[Floats, ...] = ()

    @property
    def members(self) -> Floats:
        """The spectra it may have: (MEMBERS, 81), or (1, 81) if it is known."""
        return self.power[None] if self.possible is None else self.possible

    @property
    def is_hot(self) -> bool:
        """Whether a sheet in front of it meets real heat."""
        return self.kind in HOT_KINDS and self.fitting not in ("window", "street")

    @property
    def lacks_colours(self) -> bool:
        """Whether parts of the spectrum are missing, so that a matched white is not enough."""
        return self.kind in GAPPED_KINDS

    @property
    def is_discharge(self) -> bool:
        """Whether it is an arc or vapour lamp, with its ultraviolet and its ballast."""
        return self.kind in DISCHARGE_KINDS
