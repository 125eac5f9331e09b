"""Pictures as text: what a grey card and two skins look like, to the eye and to the camera."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.actions.look_words import EXPOSED, camera_words, eye_words, shown_as, subject
from evencast.cli.plain import bullets, pairs, sentence, written
from evencast.cli.text import table
from evencast.handouts.pictures import FACES
from evencast.quantities import say_loss
from evencast.results.picture import LookAnswer, Patch, PictureAnswer


def look_light(answer: LookAnswer) -> str:
    """Every picture in words and numbers."""
    first = answer.pictures[0]
    exposed = f" {EXPOSED[first.exposure]}" if first.filters else ""
    lines = [sentence(f"{subject(first)}, {shown_as(first)}.{exposed}")]
    for each in answer.pictures:
        lines += ["", f"Balanced at {each.balance}", *pairs(_card(each)), _patches(each).rstrip()]
    lines.append("")
    lines.append(
        sentence(
            "Beside each patch red, green and blue in percent of the code values, and as hex; * is "
            "beyond what the display shows."
        )
    )
    notes = [note for each in answer.pictures for note in each.notes]
    minded = [caution for each in answer.pictures for caution in each.cautions]
    lines += bullets("Know", notes) + bullets("Mind", minded)
    return "\n".join(lines + written(answer.written_to))


def _card(answer: PictureAnswer) -> list[tuple[str, str]]:
    """A neutral card, bare and through, and the loss."""
    rows = []
    for who, say in (("eye", eye_words), ("camera", camera_words)):
        bare, through = (say(answer, filtered=each) for each in (False, True))
        if bare is None or through is None:
            continue
        rows.append((who, f"bare    {bare}" if answer.filters else bare))
        rows += [("", f"through {through}")] if answer.filters else []
    if answer.filters:
        rows.append(("loss", say_loss(answer.loss_stops)))
    return rows


def _patches(answer: PictureAnswer) -> str:
    """Grey, light skin and dark skin; --json has the chart as well."""
    headings = ["Patch", "Bare"] + (["Through"] if answer.filters else [])
    halves = [answer.bare] + ([answer.filtered] if answer.filters else [])
    rows = [
        [side[0].name, *(_code(each) for each in side)]
        for side in zip(*(half[:FACES] for half in halves), strict=True)
    ]
    return table(headings, rows)


def _code(patch: Patch) -> str:
    """ "46 46 46 %  #767676", with a star where it is limited."""
    parts: Sequence[int] = bytes.fromhex(patch.hex.removeprefix("#"))
    percent = " ".join(f"{round(each / 2.55):3d}" for each in parts)
    return f"{percent} %  {patch.hex}{' *' if patch.limited else ''}"
