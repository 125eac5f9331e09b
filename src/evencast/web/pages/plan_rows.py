"""Rows and facts of the plan page: each light, the camera, what to mind."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.actions.standing_words import doing, is_off_aim, is_read_off, left, read_left
from evencast.results.exposure import LightExposure, SceneExposure
from evencast.results.hangs import HangingLight, HangsAnswer
from evencast.results.minded import minded, of_scene
from evencast.results.words import say_balance, say_gap, say_loss, say_over, say_stop_range
from evencast.web.pages.plan_forms import tray


@dataclass(frozen=True)
class LightRow:
    """One light.

    number     : of its row, as on every document
    bare, hung : how it looks on a grey card at the balance, "#rrggbb"
    doing      : what hangs
    known_by   : "rigged", "planned", or "" where nothing is
    gel, scrim : what the sheets and the scrims take, in words
    stop       : alone at the subject
    left       : against its aim
    warning    : where something has to be done; "" where not
    read       : on set, and what that is against the aim; "" where nothing was
    read_off   : whether that is not as it shall be
    reason     : why the last answer does this with it; "" where there is none
    steps      : whether its level is a reading that can be stepped
    tray       : id of the place for its forms
    """

    number: int
    name: str
    what: str
    role: str
    bare: str
    hung: str
    doing: str
    filters: list[str]
    known_by: str
    gel: str
    scrim: str
    stop: str
    level: str
    left: str
    warning: str
    read: str
    read_off: bool
    reason: str
    steps: bool
    tray: str


def light_row(
    number: int,
    each: HangingLight,
    lit: LightExposure | None,
    swatch: tuple[str, str],
    *,
    reason: str,
    steps: bool,
) -> LightRow:
    """A row of the page.

    swatch : how the light looks bare and as it hangs
    """
    return LightRow(
        number=number,
        name=each.name,
        what=each.bare.kind,
        role=each.role,
        bare=swatch[0],
        hung=swatch[1],
        doing=doing(each),
        filters=each.hangs.filters,
        known_by=each.known_by or "",
        gel=say_loss(each.filter_stops),
        scrim=say_loss(each.scrim_stops),
        stop="" if lit is None else say_stop_range(lit.f_number),
        level="" if lit is None else say_gap(lit),
        left=left(each),
        warning=_warning(each),
        read=""
        if each.read is None
        else ": ".join(filter(None, (each.read.text, read_left(each)))),
        read_off=is_read_off(each),
        reason=reason,
        steps=steps,
        tray=tray(each.name),
    )


def _read(each: HangingLight) -> str:
    if each.read is None:
        return ""
    against = read_left(each)
    return f"{each.read.text}: {against}" if against else each.read.text


def _warning(each: HangingLight) -> str:
    if each.harmless:
        return "harmless where it falls: leave it"
    if not is_off_aim(each):
        return ""
    wanted = f"within {each.tolerance.mired_low:g} to {each.tolerance.mired_high:+g} mired"
    return f"outside what a {each.role} may be, {wanted} and {each.tolerance.duv:g} Duv"


def camera_facts(answer: HangsAnswer) -> list[tuple[str, str]]:
    """The balance, the exposure, the ratios."""
    facts = [("Balance", say_balance(answer.balance))]
    exposure: SceneExposure | None = answer.exposure
    if exposure is None:
        return facts
    if exposure.shot_f_number is not None:
        facts.append(("Lens", f"f/{exposure.shot_f_number:g}"))
    facts += [
        ("Exposure index", f"{exposure.exposure_index:g}"),
        ("Shutter", f"1/{1 / exposure.exposure_s:.3g} s"),
        ("Frames per second", f"{exposure.frames_per_s:g}"),
    ]
    subject = exposure.subject
    if subject is not None:
        facts.append(("Key and fill together", say_stop_range(subject.f_number)))
        if subject.over_shot_stops is not None:
            over = subject.over_shot_stops[1]
            facts.append(("Against the shot", say_over(over)))
        if subject.key_to_fill is not None:
            facts.append(("Key to fill", f"{subject.key_to_fill.to_one[1]:.1f} : 1"))
        if subject.sum_to_fill is not None:
            facts.append(("Key + fill to fill", f"{subject.sum_to_fill.to_one[1]:.1f} : 1"))
    return facts


def cautions_of(answer: HangsAnswer) -> list[tuple[str, str]]:
    """Every caution once, with the lights it belongs to."""
    return [(", ".join(names), caution) for caution, names in minded(of_scene(answer)).items()]
