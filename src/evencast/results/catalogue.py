"""What is built in, and where things are."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.results.light import LightReading


@dataclass(frozen=True)
class CatalogueLight:
    """One built-in light."""

    name: str
    aliases: list[str]
    reading: LightReading
    fitting: str
    note: str


@dataclass(frozen=True)
class CatalogueFilter:
    """One filter, with what it does to the light it is usually named for.

    on_k : the white it is stated on: 3200 K for the blue series, 5600 K for most others
    """

    name: str
    role: str
    series: str
    on_k: float
    shift_mired: float | None
    shift_duv: float | None
    loss_stops: float
    loss_range_stops: tuple[float, float] | None
    measured: bool
    note: str


@dataclass(frozen=True)
class CatalogueLook:
    """One look, as offsets from the balance: to begin with, and from least to most.

    mired : + warmer
    duv   : + greener, beside the white of the Kelvin that comes out
    stops : against the key, + brighter; None where practice leaves it open
    """

    name: str
    mired: float
    mired_range: tuple[float, float]
    duv: float
    duv_range: tuple[float, float]
    stops: float | None
    stops_range: tuple[float, float] | None
    how: str
    note: str
    cautions: list[str]


@dataclass(frozen=True)
class Places:
    """`where`: the version and where things lie."""

    version: str
    program: str
    library: str
    log: str
