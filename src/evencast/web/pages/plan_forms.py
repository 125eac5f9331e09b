"""Forms of the plan page: a light, what hangs on it, what was read, the camera, spots, circuits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from hashlib import sha256
from urllib.parse import urlencode

from evencast.actions.editing.fields import shown_fields
from evencast.actions.noted import noted
from evencast.errors import EvencastError
from evencast.lights import builtin_names
from evencast.lights.looks import look_names
from evencast.plan.document import sketch_kit, sketch_plan
from evencast.plan.light import Light
from evencast.plan.place import folded, quoted
from evencast.plan.plan import Plan
from evencast.plan.setup import Read, Rigged, Setup, SetupLight
from evencast.plan.setups import light_in
from evencast.web.desk import Desk, Opened
from evencast.web.pages.forms import Field, FormPage, Group, model_field

LIGHT_GROUPS: tuple[tuple[str, tuple[str, ...], bool], ...] = (
    ("", ("name", "role", "count"), True),
    (
        "What it is",
        ("builtin", "cct_k", "duv", "tint", "kind", "fitting", "spectrum"),
        True,
    ),
    (
        "How much it gives, bare",
        (
            *tuple(
                f"level.{key}" for key in ("lux", "fc", "ev", "f_stop", "distance", "focus", "cd")
            ),
            "level.watts",
            "level.photometry",
            "distance",
            "size",
        ),
        False,
    ),
    (
        "What it shall look like",
        (*tuple(f"aim.{k}" for k in ("mired", "duv", "stops")), "aim.like", "aim.look"),
        False,
    ),
    ("What may be done to it", ("moves", "adjustable.low_k", "adjustable.high_k"), False),
    ("Frost and windows", ("frost", "frost_size", "behind"), False),
    ("Electricity", ("watts", "amps", "power_factor", "circuit"), False),
)
LABELS = {
    "cct_k": "colour as read, in kelvin",
    "duv": "Duv, + greener",
    "kind": "technology",
    "builtin": "built-in light",
    "level.f_stop": "stop on your meter",
    "level.cd": "candela",
    "level.fc": "foot-candles",
    "level.ev": "EV for ISO 100",
    "level.distance": "read at what distance",
    "level.photometry": "photometric file",
    "aim.mired": "mired from the balance, + warmer",
    "aim.duv": "Duv from the balance, + greener",
    "aim.stops": "stops against the key, − darker",
    "aim.like": "like another light",
    "adjustable.low_k": "dials from, in kelvin",
    "adjustable.high_k": "dials to, in kelvin",
    "behind": "seen through",
    "distance": "distance to the subject",
    "size": "width of what shines",
    "frost_size": "width of the frost",
    "dial_k": "dialled to, in kelvin",
    "dim_stops": "dimmed, in stops",
    "f_stop": "stop on your meter",
    "filters": "sheets, from the lamp outwards",
    "height": "height of the lens",
    "swapped_for": "swapped for",
    "off": "switched off",
}
READ_FIELDS = ("cct_k", "duv", "tint", "f_stop", "lux", "fc", "ev", "sky", "frame", "time")
RIG_FIELDS: tuple[str, ...] = (
    "filters",
    "scrims",
    "dial_k",
    "dim_stops",
    "swapped_for",
    "focus",
    "distance",
)
RIG_FIELDS += ("height", "note", "off")


def tray(name: str) -> str:
    """The id of a light's place on the page, the same wherever it stands in its list."""
    return "t" + sha256(folded(name).encode()).hexdigest()[:10]


def light_form(desk: Desk, opened: Opened, name: str, where: Mapping[str, str]) -> FormPage:
    """The form of a light with the keys that matter.

    where : set-up and balance of the page it stands on
    """
    plan = plan_of(opened)
    light = light_of(plan, name)
    openings = [
        f"aperture.{at}.{key}"
        for at in range(len(light.aperture) + 1)
        for key in ("width", "height", "count")
    ]
    files = [each.name for each in desk.library.documents(opened.document.bundle)]
    suggest: dict[str, list[str]] = {
        "builtin": builtin_names(),
        "spectrum": _ending(files, ".csv", ".spdx", ".gdtf"),
        "level.photometry": _ending(files, ".ies", ".ldt", ".gdtf"),
        "aim.like": [each.name for each in plan.light if each.name != light.name],
        "aim.look": [*(each.name for each in plan.look), *look_names()],
        "behind": [each.name for each in plan.light if each.name != light.name],
        "circuit": [each.name for each in plan.circuit],
        "frost": kit_sheets(desk, opened, roles=("diffusion",)),
    }
    groups = [*LIGHT_GROUPS]
    groups.insert(5, ("Openings to cover", tuple(openings), False))
    names = [each for _, keys, _ in groups for each in keys]
    shown = shown_fields(opened.text, ("light", light.name), names)
    return FormPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=light.name,
        action=f"/plan/{opened.document.id}/edit",
        tray=tray(light.name),
        does="Save",
        back=address(opened.document.id, where),
        groups=[
            Group(
                title,
                [
                    model_field(
                        Light, each, shown[each], label=_label(each), suggest=suggest.get(each, ())
                    )
                    for each in keys
                ],
                is_open or any(shown[each] for each in keys),
            )
            for title, keys, is_open in groups
        ],
        hidden={**where, "light": light.name},
        takes_files=True,
    )


def read_form(opened: Opened, name: str, where: Mapping[str, str]) -> FormPage:
    """The form of a reading: empty, since a reading stands in place of the one before."""
    light = light_of(plan_of(opened), name)
    first = [model_field(Read, "cct_k", "", label="reads, in kelvin")]
    more = [model_field(Read, each, "", label=LABELS.get(each, "")) for each in READ_FIELDS[1:6]]
    rest = [model_field(Read, each, "", label=LABELS.get(each, "")) for each in READ_FIELDS[6:]]
    rest = [each if each.name != "sky" else replace(each, remembered=True) for each in rest]
    return FormPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=f"{light.name}: read",
        action=f"/plan/{opened.document.id}/read",
        tray=tray(light.name),
        does="Save the reading",
        back=address(opened.document.id, where),
        groups=[
            Group("Colour", first),
            Group("Green, and the level", more, is_open=False),
            Group("Sky, frame, time", rest, is_open=False),
        ],
        hidden={**where, "light": light.name, "now": ""},
        told=_read_before(opened, name, where.get("setup", "")),
    )


def rig_form(
    desk: Desk, opened: Opened, name: str, where: Mapping[str, str], cautions: Sequence[str]
) -> FormPage:
    """The form of what really hangs, filled with what was noted, else with what was planned."""
    plan = plan_of(opened)
    light = light_of(plan, name)
    said = said_of(plan, where.get("setup", ""), light.name)
    part = "rigged" if said is not None and said.rigged is not None else "planned"
    shown = dict.fromkeys(RIG_FIELDS, "")
    if said is not None and (said.rigged or said.planned):
        path = ("setup", where.get("setup", ""), "light", light.name, part)
        shown = shown_fields(opened.text, path, RIG_FIELDS)
    suggest = {
        "filters": kit_sheets(desk, opened),
        "swapped_for": [each.name for each in light.swap],
        "focus": ["flood", "spot"],
    }
    told = [] if part == "rigged" or not any(shown.values()) else ["Filled with what was planned."]
    fields = [
        model_field(
            Rigged,
            each,
            shown[each],
            label=LABELS.get(each, ""),
            suggest=suggest.get(each, ()),
            sort="sheets" if each == "filters" else None,
        )
        for each in RIG_FIELDS
    ]
    fields[-1] = Field("off", "switched off", shown["off"], "choice", choices=["yes", "no"])
    return FormPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=f"{light.name}: rigged",
        action=f"/plan/{opened.document.id}/rig",
        tray=tray(light.name),
        does="Save what hangs",
        back=address(opened.document.id, where),
        groups=[
            Group("In front of it", fields[:2]),
            Group("How it is set", fields[2:6]),
            Group("Where it stands, and a note", fields[6:]),
        ],
        hidden={**where, "light": light.name},
        told=[*told, *cautions],
    )


def address(number: int, where: Mapping[str, str], path: str = "", **more: str) -> str:
    """Of a page of a plan, in a set-up, at a balance."""
    query = urlencode({key: each for key, each in {**where, **more}.items() if each})
    return f"/plan/{number}{path}" + (f"?{query}" if query else "")


def kit_sheets(desk: Desk, opened: Opened, roles: Sequence[str] = ()) -> list[str]:
    """Names of the kit's filters, in its order.

    roles : those of these roles alone; all where none is named
    """
    plan = sketch_plan(opened.text)
    path = opened.path.parent / (plan.kit if plan else "")

    def found() -> list[tuple[str, str]]:
        every = desk.library.documents(opened.document.bundle, "kit")
        named = next((each for each in every if plan and each.name == plan.kit), None)
        if named is None:
            return []
        kit = sketch_kit(desk.library.read(named).content.decode("utf-8-sig", "replace"))
        return [] if kit is None else [(each.name, str(each.role)) for each in kit.filter]

    sheets = desk.warm(("sheets", path), found)
    return [name for name, role in sheets if name and (not roles or role in roles)]


def plan_of(opened: Opened) -> Plan:
    """As much of the plan as can be read."""
    plan = sketch_plan(opened.text)
    if plan is None:
        raise EvencastError(
            "the plan cannot be read",
            where=opened.document.name,
            remedy="Mend it as text, or bring an earlier revision back.",
        )
    return plan


def light_of(plan: Plan, name: str) -> Light:
    """A light of it."""
    light = plan.light_named(name)
    if light is None:
        raise missing("light", name, [each.name for each in plan.light])
    return light


def missing(what: str, name: str, there: Sequence[str]) -> EvencastError:
    """That there is no such thing, and what there is."""
    names = ", ".join(map(quoted, there))
    return EvencastError(
        f"no {what} is called {quoted(name)}; somebody may have taken it out",
        where="the plan",
        remedy=f"Name one of these: {names}." if there else f"There is no {what} yet.",
    )


def setup_in(plan: Plan, name: str) -> Setup | None:
    """The set-up of that name."""
    return next((each for each in plan.setup if folded(each.name) == folded(name)), None)


def said_of(plan: Plan, setup: str, light: str) -> SetupLight | None:
    """What a set-up says of a light."""
    return light_in(setup_in(plan, setup), light)


def _read_before(opened: Opened, name: str, setup: str) -> list[str]:
    said = said_of(plan_of(opened), setup, name)
    before = None if said is None else noted(said.read)
    return [] if before is None else [f"Read before: {before.text}."]


def _label(name: str) -> str:
    if name.startswith("aperture."):
        _, at, key = name.split(".")
        return f"{int(at) + 1}: {key}"
    return LABELS.get(name, "")


def _ending(files: Sequence[str], *ends: str) -> list[str]:
    return [each for each in files if each.casefold().endswith(ends)]
