"""What the list of panes and frames says."""

from __future__ import annotations

from dataclasses import dataclass

LAYOUT = "panes"

RULES = (
    "Mark one corner with grease pencil: mark, grade, date. Never write across the beam.",
    "Cut the unlabelled end of a sheet first, so that the print on it survives. One sheet at a "
    "time until practised, three at most, and keep the tissue on.",
    "Frost has a grain: note its direction, and ask whether it goes in or out of the colour.",
    "Windows: clean the glass, mist it with water and a drop of detergent, squeegee from the "
    "centre; or tape on the frame.",
    "Strips: join at glazing bars where there are any. Elsewhere butt them with thin clear tape: a "
    "lap shows as a stripe of double density.",
)
"""Of cutting and hanging; common practice, no source."""

CAUTION = (
    "Work at height is for people who are trained and secured; glass may break. The owner is "
    "asked before anything is stuck to a window, and local code decides."
)
"""For windows and whatever hangs overhead; common practice, no source."""


@dataclass(frozen=True, slots=True)
class PaneRow:
    """Equal pieces to cut.

    mark   : "2a"
    filter : what they are cut from
    size   : "1150 × 1550 mm", on letter paper in inches; or what to do where it is not known
    metric : the same in millimetres where `size` is in inches, else ""
    glass  : the pane itself, in words; "" for what is no pane
    count  : how many
    about  : what to know of them: strips, copies in each opening; each a line
    boxes  : boxes to tick for each of cut, hung and down; 0 for a blank "of 12" instead
    """

    mark: str
    filter: str
    size: str
    metric: str
    glass: str
    count: int
    about: list[str]
    boxes: int


@dataclass(frozen=True, slots=True)
class PaneLight:
    """One light that takes sheets.

    head : number and name
    sub  : role, what is covered, the whole stack
    """

    head: str
    sub: str
    rows: list[PaneRow]


@dataclass(frozen=True, slots=True)
class FilterTotal:
    """One filter in one set-up.

    pieces : how many
    area   : "5.3 m²", of those of known size
    yields : whether the stock yields them, in a sentence
    """

    filter: str
    pieces: int
    area: str
    yields: str


@dataclass(frozen=True, slots=True)
class PanesSetup:
    """One set-up.

    name   : of the set-up; "" for the plan itself
    told   : how many pieces in all, or that there is nothing to cut, in a sentence
    minds  : cautions
    """

    name: str
    told: str
    lights: list[PaneLight]
    totals: list[FilterTotal]
    minds: list[str]


@dataclass(frozen=True, slots=True)
class Panes:
    """The list of panes and frames of a job.

    plan  : its name
    rules : of cutting; empty where there is nothing to cut
    """

    plan: str
    setups: list[PanesSetup]
    rules: list[str]
