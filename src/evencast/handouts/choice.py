"""The choice: what half a page for the director of photography says, ready to be laid out by
`data/documents/choice.typ`."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Face:
    """A small picture of grey and two skins, and the same in words.

    svg   : the picture
    alt   : what it shows
    words : how a neutral card looks: "98 mired warm, a trace magenta"
    """

    svg: str
    alt: str
    words: str


@dataclass(frozen=True, slots=True)
class Way:
    """One balance, as a column of the comparison.

    balance     : "4300 K"
    names       : "recommended", and what it has least of
    recommended : whether it is the one the plan goes by
    told        : one text for each of `Section.row_names`
    bare, hung  : the light of `Section.pictured` under this balance; None where it cannot be drawn
    """

    balance: str
    names: str
    recommended: bool
    told: list[str]
    bare: Face | None
    hung: Face | None


@dataclass(frozen=True, slots=True)
class Spot:
    """What one spot gets.

    looks  : against its aim
    stop   : what it asks for, or ""
    judged : "inside" or "outside", and by what
    """

    name: str
    looks: str
    stop: str
    judged: str


@dataclass(frozen=True, slots=True)
class Stays:
    """A light, or a view, that does not come out as it shall.

    name : with its number
    left : what is left
    why  : whether that matters
    """

    name: str
    left: str
    why: str


@dataclass(frozen=True, slots=True)
class Section:
    """One set-up.

    head      : the plan's name, and the set-up's
    verdict   : what is done in all
    why       : the reason for the balance
    row_names : what the rows of the comparison are
    ways      : the recommended balance first
    pictured  : the light whose pictures they are; "" where there are none
    pictured_number : its number
    spots     : in the plan's order
    stays     : empty where all come out as they shall
    chart     : the lights before and after as SVG, or ""
    chart_alt : the same in words
    """

    head: str
    verdict: str
    why: str
    row_names: list[str]
    ways: list[Way]
    pictured: str
    pictured_number: str
    spots: list[Spot]
    stays: list[Stays]
    chart: str
    chart_alt: str


@dataclass(frozen=True, slots=True)
class Choice:
    """All set-ups of a plan, two to a page."""

    sections: list[Section]
