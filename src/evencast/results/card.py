"""What is told of every filter of a kit: the published reference and what goes with it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from evencast.camera.patches import Patch
from evencast.errors import Problem
from evencast.results.handout import HandoutFile
from evencast.results.light import Band

Ends = tuple[float, float]


@dataclass(frozen=True)
class CardFrame:
    """A test frame of the author's own.

    state : "bare" or "filtered"
    light : what it was taken under, as the kit says, or ""
    date  : as the kit says, or ""
    """

    state: Literal["bare", "filtered"]
    light: str
    date: str
    file: str
    width_px: int
    height_px: int


@dataclass(frozen=True)
class CardPicture:
    """A filter at one balance of the camera: computed patches, and the author's frames.

    bare_residual_mired, bare_residual_duv : the bare light beside the balance, + warmer and
                  + greener; None where there is no CCT
    residual_mired, residual_duv : the light through the filter beside the balance
    bare, filtered : grey, light skin, dark skin, then the chart, the stop held
    compensated : the filtered ones with the stop opened by what the filter takes
    bare_looks, filtered_looks : the grey card in words, its green beside the white of its Kelvin:
                  "neutral", "a little warm", "orange and a little green"
    """

    balance_k: float
    bare_residual_mired: float | None
    bare_residual_duv: float | None
    residual_mired: float | None
    residual_duv: float | None
    bare: list[Patch]
    filtered: list[Patch]
    compensated: list[Patch]
    bare_looks: str
    filtered_looks: str
    frames: list[CardFrame] = field(default_factory=list)


@dataclass(frozen=True)
class CardElsewhere:
    """The same filter in front of another lamp."""

    light: str
    shift_mired: float | None
    shift_duv: float
    loss_stops: float


@dataclass(frozen=True)
class CardEvidence:
    """What the kit names as evidence of a filter, its test frames aside."""

    date: str
    kind: str
    file: str


@dataclass(frozen=True)
class CardLesson:
    """A filter as a lesson: what to predict, what to look for, and what comes out."""

    question: str
    look_for: list[str]
    answer: str
    about_exposure: bool


@dataclass(frozen=True)
class FilterFacts:
    """One filter in front of one light, without its pictures.

    light         : as `through` takes it
    bare_cct_k, filtered_cct_k, shift_mired : None where there is no CCT
    filtered_green_duv : Duv beside that of the white of the same Kelvin
    loss_stops, band, nominal : as `through` tells them
    loss_range_stops : of a diffuser, the least and greatest loss met in practice
    transmission_percent, filter_factor : 100 x 2^-loss and 2^loss; their bands likewise
    purpose       : what it is for, in words
    use, limits   : when to use it, and what it cannot do
    origin        : where its numbers come from
    """

    name: str
    role: str
    series: str
    note: str
    light: str
    bare_cct_k: float | None
    filtered_cct_k: float | None
    filtered_duv: float | None
    filtered_green_duv: float | None
    shift_mired: float | None
    shift_duv: float | None
    loss_stops: float
    nominal: bool
    band: Band | None
    loss_range_stops: Ends | None
    transmission_percent: float
    transmission_band_percent: Ends | None
    filter_factor: float
    filter_factor_band: Ends | None
    purpose: str
    use: list[str]
    limits: list[str]
    origin: str
    evidence: list[CardEvidence]
    notes: list[str]
    cautions: list[str]


@dataclass(frozen=True)
class CardRow(FilterFacts):
    """One filter in front of one light, with its pictures.

    elsewhere : what it does to other lamps
    """

    elsewhere: list[CardElsewhere]
    lesson: CardLesson
    pictures: list[CardPicture]


@dataclass(frozen=True)
class CardAnswer:
    """`card`: every filter of a kit, and the documents that were written.

    balances_k : the two balances of the camera
    camera     : "eye", or whose sight the pictures are
    """

    kit: str
    date: str
    author: str
    balances_k: list[float]
    camera: str
    rows: list[CardRow]
    files: list[HandoutFile]
    problems: list[Problem]
