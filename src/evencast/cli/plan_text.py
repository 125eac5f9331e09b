"""A solved plan as text: what to do, what every light, spot and view gets, and why."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.cli.plain import bullets, sentence
from evencast.cli.spot_text import spots
from evencast.cli.text import doubt_told, problem_line, table
from evencast.quantities import many
from evencast.results.exposure import SceneExposure, ViewAnswer
from evencast.results.minded import minded, of_scene
from evencast.results.plan import Alternative, DemoAnswer, PlannedLight, SolveAnswer
from evencast.results.words import (
    say_circuit,
    say_doing,
    say_doubtful_left,
    say_gap,
    say_inside,
    say_loss,
    say_lux,
    say_minutes,
    say_off,
    say_role,
    say_stays,
    say_stop_range,
    say_verdict,
    say_view,
    say_work,
)


def solve(answer: SolveAnswer) -> str:
    """A solved plan, the answer first."""
    if not answer.lights:
        found = bullets("To look at", (problem_line(each) for each in answer.problems))
        return "\n".join([sentence(f"{answer.plan}: {answer.why}"), *found])
    lines = [sentence(_verdict(answer)), _plan_table(answer.lights), sentence(answer.why)]
    lines += ["", "Other ways:", _alternatives(answer.alternatives).rstrip()]
    lines += _exposure(answer.exposure) + spots(answer.spots) + _views(answer.views)
    lines.append("")
    for each in answer.lights:
        lines += [sentence(" ".join(_light(each, answer))), ""]
    lines.append(sentence(f"{_proven(answer)}{doubt_told(answer.lights)}"))
    lines += bullets("What one more would buy", (each.text for each in answer.wanting))
    lines += bullets("What cannot be had together", answer.conflict)
    lines += _circuits(answer)
    lines += bullets("Mind", _cautions(answer))
    lines += bullets("To look at", (problem_line(each) for each in answer.problems))
    if answer.kept_in is not None:
        lines += ["", f"Kept in {answer.kept_in}, set-up {answer.setup}."]
    return "\n".join(lines)


def demo(answer: DemoAnswer) -> str:
    """The demo."""
    told = [solve(answer.solved), ""]
    if answer.written_to is None:
        told.append(
            sentence(
                "An invented job. `evencast demo --to DIR` writes its plan, its kit and its "
                "hand-outs to DIR."
            )
        )
    else:
        told.append(f"Written to {answer.written_to}: {', '.join(answer.files)}")
        told.append("For paper and phone:")
        told += [f"  {each.what:<10} {each.file}" for each in answer.handouts]
    return "\n".join(told)


def _verdict(answer: SolveAnswer) -> str:
    done = f"{answer.plan}: {say_verdict(answer)}. {say_work(answer)}."
    return " ".join([done, *say_stays(answer)])


def _plan_table(planned: Sequence[PlannedLight]) -> str:
    rows = [
        (
            each.name,
            say_doing(each),
            say_loss(each.loss_stops),
            "off" if each.move == "switch off" else say_doubtful_left(each),
            "harmless" if each.harmless else say_inside(each),
        )
        for each in planned
    ]
    return table(("Light", "What to do", "Loss", "Left", "Inside"), rows)


def _alternatives(every: Sequence[Alternative]) -> str:
    rows = [
        (
            each.name,
            each.balance.label,
            str(each.pieces),
            f"{each.area_m2:.1f}",
            say_minutes(each.minutes),
            say_loss(each.loss_stops),
            say_off(each),
        )
        for each in every
    ]
    return table(("", "Balance", "Pieces", "m²", "Time", "Loses most", "Off"), rows)


def _exposure(answer: SceneExposure | None) -> list[str]:
    """The stop at the subject of each light and of all."""
    if answer is None:
        return []
    shot = "" if answer.shot_f_number is None else f", shot at f/{answer.shot_f_number:g}"
    head = f"How bright (index {answer.exposure_index:g}, 1/{1 / answer.exposure_s:.3g} s{shot}):"
    rows: list[tuple[str, ...]] = [
        (
            each.name,
            say_lux(each.lux) if each.lux else "",
            say_stop_range(each.f_number),
            say_gap(each),
        )
        for each in answer.lights
    ]
    subject = answer.subject
    if subject is not None:
        lux = "" if subject.lux is None else say_lux(subject.lux)
        rows.append(("key and fill", lux, say_stop_range(subject.f_number), _ratio(answer)))
    headings: tuple[str, ...] = ("Light", "lx", "Stop", "Against what is wanted")
    if not any(row[1] for row in rows):  # every level was read as a stop
        headings = (headings[0], *headings[2:])
        rows = [(row[0], *row[2:]) for row in rows]
    lines = ["", head, table(headings, rows).rstrip()]
    notes = [*answer.notes, *(subject.notes if subject else [])]
    notes += [f"{each.name}: {note}" for each in answer.lights for note in each.notes]
    return lines + bullets("Know of the levels", notes)


def _ratio(answer: SceneExposure) -> str:
    subject = answer.subject
    if subject is None or subject.key_to_fill is None or subject.sum_to_fill is None:
        return ""
    key, total = subject.key_to_fill.to_one[1], subject.sum_to_fill.to_one[1]
    return f"key to fill {key:.1f}:1, key + fill to fill {total:.1f}:1"


def _views(views: Sequence[ViewAnswer]) -> list[str]:
    told = []
    for view in views:
        told.append(
            f"{view.name} through {' + '.join(view.filters) or 'no sheet'}: {say_view(view)}."
        )
        cures = [each.text for each in view.cures]
        others = [
            each.text
            for each in view.nd
            if [*each.filters, *each.nd] != view.filters and each.text not in cures
        ]
        told += [f"{view.name}, to get there: {text}." for text in cures]
        told += [f"{view.name}, otherwise: {text}." for text in others]
        told += view.notes
    return bullets("Through the windows", told)


def _light(each: PlannedLight, answer: SolveAnswer) -> list[str]:
    """What is to be said of one light."""
    told = [f"{each.name} ({say_role(each, answer)}). {each.reason}"]
    if each.softness is not None:
        told.append(each.softness.text)
    if each.minutes >= 0.5:
        told.append(f"About {say_minutes(each.minutes)}.")
    if each.cures:
        told.append("To its level, cheapest first: " + "; ".join(c.text for c in each.cures) + ".")
    return told + each.notes


def _proven(answer: SolveAnswer) -> str:
    proven = answer.proven
    sheets, balances = many(proven.layers, "sheet"), many(proven.balances, "balance")
    told = f"Every stack of up to {sheets} at {balances} was compared; "
    if proven.gap == 0:
        return f"{told}the plan is proven best by its weights."
    return f"{told}no plan is better by more than {proven.gap:.1%} of its cost."


def _circuits(answer: SolveAnswer) -> list[str]:
    told = []
    for each in answer.circuits:
        told += [f"{each.name}: {say_circuit(each)}.", *each.load.notes]
    return bullets("Circuits", told)


def _cautions(answer: SolveAnswer) -> list[str]:
    """Every caution once, with the lights it belongs to."""
    found = minded(of_scene(answer)).items()
    return [f"{', '.join(names)}: {caution}" for caution, names in found]
