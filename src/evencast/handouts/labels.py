"""What labels for cut pieces say, and where they lie."""

from __future__ import annotations

from dataclasses import dataclass

LAYOUT = "labels"


@dataclass(frozen=True, slots=True)
class Label:
    """One label.

    x_mm, y_mm : its left and upper edge on the paper
    mark   : "2a"
    number : "1 of 3"; "" where there is one alone
    filter : what the piece was cut from
    size   : "1150 × 1550 mm", or that it is unknown
    light  : number and name
    where  : set-ups and date
    """

    x_mm: float
    y_mm: float
    mark: str
    number: str
    filter: str
    size: str
    light: str
    where: str


@dataclass(frozen=True, slots=True)
class Labels:
    """Sheets of labels.

    told   : that there is nothing to label, in a sentence; "" where there are labels
    width_mm, height_mm : of each label
    sheets : the labels on each sheet
    """

    told: str
    width_mm: float
    height_mm: float
    sheets: list[list[Label]]
