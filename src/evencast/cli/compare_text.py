"""Two plans or set-ups beside each other, as text."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.cli.plain import bullets, pairs, sentence
from evencast.results.compare import CompareAnswer, ComparedLight, Difference, Side

UNSAID = "nothing said"


def compare(answer: CompareAnswer) -> str:
    """What differs, lamp by lamp, and how to get back to the old."""
    lines = [sentence(_verdict(answer))]
    if answer.camera:
        lines += ["", "Camera:", *pairs([(each.what, _told(each)) for each in answer.camera])]
    for each in answer.lights:
        if each.state != "same":
            lines += ["", f"{each.name} ({_state(each)}):", *pairs(_rows(each))]
    same = [each.name for each in answer.lights if each.state == "same"]
    if same:
        lines += ["", sentence(f"As it was: {', '.join(same)}.")]
    lines += bullets("Know", answer.notes)
    problems = (
        f"{each.severity}: {each.where}: {each.message}. {each.remedy}" for each in answer.problems
    )
    return "\n".join(lines + bullets("To look at", problems))


def _verdict(answer: CompareAnswer) -> str:
    differing = [each for each in answer.lights if each.state != "same"]
    what = f"{len(differing)} of {len(answer.lights)} lights differ"
    if len(differing) == 1:
        what = f"1 of {len(answer.lights)} lights differs"
    if not differing:
        what = "no light differs"
    camera = ", and the camera" if answer.camera and differing else ""
    if answer.camera and not differing:
        what = "no light differs, but the camera does"
    return f"{_side(answer.new)} against {_side(answer.old)}: {what}{camera}."


def _side(side: Side) -> str:
    return side.plan if side.setup is None else f'{side.plan}, "{side.setup}"'


def _state(light: ComparedLight) -> str:
    words = {"gone": "gone from the new", "new": "only in the new"}
    return ", ".join([light.role, *([words[light.state]] if light.state in words else [])])


def _rows(light: ComparedLight) -> Sequence[tuple[str, str]]:
    rows = [(each.what, _told(each)) for each in light.differences]
    return rows + [("then" if light.state == "differs" else "to do", each) for each in light.then]


def _told(each: Difference) -> str:
    """Old to new, how much that is, and the way back."""
    parts = []
    if each.old is not None or each.new is not None:
        parts.append(f"{each.old or UNSAID} -> {each.new or UNSAID}")
    parts += [each.told] if each.told else []
    back = "" if each.back is None else f". Back: {each.back}"
    return f"{': '.join(parts)}{back}"
