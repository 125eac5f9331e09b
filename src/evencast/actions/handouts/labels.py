"""`labels`: one for every piece that is cut, on sheets of adhesive labels."""

from __future__ import annotations

from evencast.actions.handouts.cuts import Owned, owned
from evencast.actions.handouts.job import Job, Made
from evencast.handouts.label_sheet import LabelSheet, checked_start, label_sheet
from evencast.handouts.labels import LAYOUT, Label, Labels
from evencast.handouts.sizes import say_size
from evencast.quantities import listed

NOTHING = "Nothing is to be cut in this plan, so there is nothing to label."


def made(job: Job) -> list[Made]:
    """labels.pdf."""
    sheet = label_sheet(job.wishes.labels, job.wishes.paper)
    start = checked_start(job.wishes.label_start, sheet)
    found = [label for each in owned(job) for label in _labels(job, each)]
    content = Labels(
        told="" if found else NOTHING,
        width_mm=sheet.width_mm,
        height_mm=sheet.height_mm,
        sheets=_laid(found, sheet, start),
    )
    return [job.typeset("labels.pdf", LAYOUT, f"Labels: {job.name}", content)]


def _labels(job: Job, each: Owned) -> list[dict[str, str]]:
    cut = each.cut
    size = "size to be measured"
    if cut.piece is not None:
        size = say_size(cut.piece.width_mm, cut.piece.height_mm, job.wishes.paper)
    setups = [name for name in each.setups if name]
    where = ", ".join([*([listed(setups)] if setups else []), job.wishes.date])
    return [
        {
            "mark": cut.mark,
            "number": f"{number} of {each.count}" if each.count > 1 else "",
            "filter": cut.filter,
            "size": size,
            "light": f"{cut.number}  {cut.light}",
            "where": where,
        }
        for number in range(1, each.count + 1)
    ]


def _laid(found: list[dict[str, str]], sheet: LabelSheet, start: int) -> list[list[Label]]:
    """The labels on their sheets; the first is begun at the label `start`, from 1."""
    sheets: dict[int, list[Label]] = {}
    for place, texts in enumerate(found, start - 1):
        page, number = divmod(place, sheet.count)
        x_mm, y_mm = sheet.place_mm(number)
        sheets.setdefault(page, []).append(Label(x_mm, y_mm, **texts))
    return list(sheets.values())
