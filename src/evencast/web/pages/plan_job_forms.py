"""Forms of the job: the camera, limits and tolerances; spots; circuits."""

from __future__ import annotations

import re
from collections.abc import Mapping

from evencast.actions.editing.fields import shown_fields
from evencast.actions.editing.forms import number_of
from evencast.actions.entry.reading import typed_reading
from evencast.errors import EvencastError
from evencast.plan.place import folded, quoted
from evencast.plan.plan import Plan
from evencast.plan.scene import Circuit, Spot
from evencast.web.desk import Opened
from evencast.web.pages.forms import Field, FormPage, Group, model_field
from evencast.web.pages.plan_forms import address, missing, plan_of

PLAN_GROUPS: tuple[tuple[str, str, tuple[str, ...], bool], ...] = (
    ("Job", "", ("name", "mains_hz"), True),
    (
        "Exposure",
        "camera.",
        (
            "exposure_index",
            "frames_per_s",
            "shutter_deg",
            "shutter_s",
            "t_stop",
            "f_stop",
            "meter_constant",
        ),
        True,
    ),
    (
        "Balance",
        "camera.balance.",
        ("fixed_k", "duv", "low_k", "high_k", "step_k", "at_k", "from_card_under", "tint_steps"),
        True,
    ),
    ("Tint", "camera.", ("tint_step_duv", "tint_direction"), False),
    ("Limits", "limits.", ("layers", "loss_stops"), False),
)
ROLES = ("key", "fill", "background", "practical", "view", "other")
LABELS = {
    "mains_hz": "mains, in hertz",
    "camera.frames_per_s": "frames per second",
    "camera.shutter_deg": "shutter, in degrees",
    "camera.shutter_s": "or shutter, in seconds",
    "camera.t_stop": "T-stop of the lens",
    "camera.f_stop": "or its f-stop",
    "camera.meter_constant": "constant of your meter",
    "camera.balance.fixed_k": "dialled, in kelvin",
    "camera.balance.duv": "Duv, + greener",
    "camera.balance.low_k": "to choose from: lowest, in kelvin",
    "camera.balance.high_k": "to choose from: highest, in kelvin",
    "camera.balance.step_k": "in steps of, in kelvin",
    "camera.balance.at_k": "or these alone, in kelvin",
    "camera.balance.from_card_under": "from a card under",
    "camera.balance.tint_steps": "steps of tint",
    "camera.tint_step_duv": "Duv of one step of tint",
    "camera.tint_direction": "a step up moves the picture toward",
    "limits.layers": "sheets before a light, at most",
    "limits.loss_stops": "stops lost in them, at most",
    "duv": "Duv",
    "breaker_a": "breaker, in amps",
    "margin": "share of it that may stay on",
}
"""Of keys whose own name leaves open what is meant, or its unit."""
_STOPS = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


def job_form(opened: Opened, where: Mapping[str, str]) -> FormPage:
    """The form of the job: the camera, limits, tolerances."""
    groups = [(title, front, keys, is_open) for title, front, keys, is_open in PLAN_GROUPS]
    groups += [
        (f"Tolerance of {role}", f"tolerance.{role}.", ("mired", "duv", "stops"), False)
        for role in ROLES
    ]
    names = [front + key for _, front, keys, _ in groups for key in keys]
    shown = shown_fields(opened.text, (), names)
    plan = plan_of(opened)
    lights = [each.name for each in plan.light]
    return FormPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title="Camera, limits and tolerances",
        action=f"/plan/{opened.document.id}/job",
        tray="job-tray",
        does="Save",
        back=address(opened.document.id, where),
        groups=[
            Group(
                title,
                [
                    model_field(
                        Plan,
                        front + key,
                        shown[front + key],
                        label=LABELS.get(front + key) or LABELS.get(key, ""),
                        suggest=lights if key == "from_card_under" else (),
                    )
                    for key in keys
                ],
                is_open or any(shown[front + key] for key in keys),
            )
            for title, front, keys, is_open in groups
        ],
        hidden={**where},
    )


def spot_form(opened: Opened, name: str, where: Mapping[str, str]) -> FormPage:
    """The form of a spot: what each light gives there.

    name : "" for a new one
    """
    plan = plan_of(opened)
    spot = next((each for each in plan.spot if folded(each.name) == folded(name)), None)
    if name and spot is None:
        raise missing("spot", name, [each.name for each in plan.spot])
    fields = [
        model_field(Spot, "name", "" if spot is None else spot.name),
        model_field(Spot, "role", "fill" if spot is None else spot.role),
    ]
    gives = [
        Field(f"gives.{number}", each.name, _gives(spot, each.name))
        for number, each in enumerate(plan.light)
    ]
    return FormPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=f"Spot {spot.name}" if spot else "New spot",
        action=f"/plan/{opened.document.id}/spot",
        tray="job-tray",
        does="Save",
        back=address(opened.document.id, where),
        groups=[
            Group("", fields),
            Group(
                "What each light gives there, alone: −2 for two stops under its own level at "
                "the subject; or 6 lux, f/4; empty where it does not reach",
                gives,
            ),
        ],
        hidden={**where, "spot": name},
    )


def circuit_form(opened: Opened, name: str, where: Mapping[str, str]) -> FormPage:
    """The form of a circuit; "" for a new one."""
    plan = plan_of(opened)
    if name and not any(folded(each.name) == folded(name) for each in plan.circuit):
        raise missing("circuit", name, [each.name for each in plan.circuit])
    keys = ("name", "volts", "breaker_a", "margin")
    shown = shown_fields(opened.text, ("circuit", name), keys) if name else dict.fromkeys(keys, "")
    fields = [model_field(Circuit, key, shown[key], label=LABELS.get(key, "")) for key in keys]
    return FormPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=f"Circuit {name}" if name else "New circuit",
        action=f"/plan/{opened.document.id}/circuit",
        tray="job-tray",
        does="Save",
        back=address(opened.document.id, where),
        groups=[Group("", fields)],
        hidden={**where, "circuit": name},
    )


def given_at_spot(text: str) -> dict[str, float | int]:
    """What a light gives at a spot, as a form says it: "-2", "6 lux".

    Raises  EvencastError for anything else
    """
    plain = text.strip().replace("−", "-")
    if _STOPS.fullmatch(plain):
        return {"stops": number_of(plain, where="stops")}
    keys = typed_reading(plain).keys
    level: dict[str, float | int] = {
        key: keys[key] for key in ("lux", "fc", "ev", "f_stop") if key in keys
    }
    if not level:
        raise EvencastError(
            f"{quoted(text)} is no level", where="spot", remedy="Write -2, 6 lux, 1 fc or f/2."
        )
    return level


def _gives(spot: Spot | None, light: str) -> str:
    entry = next((e for e in spot.light if folded(e.name) == folded(light)), None) if spot else None
    if entry is None:
        return ""
    if entry.stops is not None:
        return f"{entry.stops:g}"
    told = (("lux", "{:g} lux"), ("fc", "{:g} fc"), ("ev", "EV {:g}"), ("f_stop", "f/{:g}"))
    return next(
        (form.format(getattr(entry, key)) for key, form in told if getattr(entry, key) is not None),
        "",
    )
