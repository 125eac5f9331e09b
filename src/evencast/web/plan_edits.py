"""Changes of a plan that its page asks for and that are made of several: text in, text out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path, PurePosixPath

from evencast.actions.editing.document import PLAN, entries, opened
from evencast.actions.editing.fields import set_fields
from evencast.actions.editing.lights import rename_light
from evencast.actions.editing.setups import add_setup, note_read, note_rigged
from evencast.actions.editing.values import set_value
from evencast.actions.hangs import Standing
from evencast.errors import EvencastError
from evencast.plan.place import folded, quoted
from evencast.results.editing import Edited
from evencast.store.library.names import document_name
from evencast.store.trial import trial
from evencast.web.changing import Edit
from evencast.web.desk import Desk
from evencast.web.people import Person

FIRST = "first"
"""What a plan's first set-up is called where nobody named one."""
SPECTRA = (".csv", ".spdx", ".gdtf")
PHOTOMETRY = (".ies", ".ldt")
MOST_FILE_BYTES = 8 * 1024 * 1024


def with_setup(text: str, setup: str) -> tuple[str, str]:
    """A plan that has a set-up, and the name of the one that is meant."""
    there = [each for each in entries(opened(PLAN, text), ("setup",)) if isinstance(each, dict)]
    if setup:
        return text, setup
    if there:
        return text, str(there[0].get("name", ""))
    return add_setup(text, FIRST).text, FIRST


def edit_light(text: str, light: str, fields: Mapping[str, str]) -> Edited:
    """The plan with a light as its form has it; a new name goes wherever it was named."""
    new = " ".join(fields.get("name", light).split())
    keys = {name: value for name, value in fields.items() if name != "name"}
    made = set_fields(text, ("light", light), keys)
    if new == light:
        return made
    named = rename_light(made.text, light, new)
    said = "; ".join(each for each in (made.said, named.said) if each)
    return Edited(named.text, said, named.name, [*made.problems, *named.problems])


def note_reading(text: str, setup: str, light: str, keys: Mapping[str, str], *, now: str) -> Edited:
    """The plan with a reading, in a set-up that is made where there is none."""
    text, setup = with_setup(text, setup)
    given = {key: value for key, value in keys.items() if value.strip()}
    if not given.keys() & {"cct_k", "lux", "fc", "ev", "f_stop"}:
        raise EvencastError(
            "nothing was read",
            where=f"light {quoted(light)}",
            remedy="Type what the meter says: Kelvin, or a level, or both.",
        )
    return note_read(text, setup, light, given, now=now)


def note_rigging(text: str, setup: str, light: str, keys: Mapping[str, str]) -> Edited:
    """The plan with what really hangs, in a set-up that is made where there is none."""
    text, setup = with_setup(text, setup)
    given: dict[str, object] = dict(keys)
    if given.get("off") in ("no", ""):
        given["off"] = None
    return note_rigged(text, setup, light, given)


def note_trim(text: str, setup: str, light: str, rigged: Mapping[str, object], trim: str) -> Edited:
    """The plan with a trim done. The reading that led to it goes: it was of what hung before, and
    would be answered with the same trim again."""
    text, setup = with_setup(text, setup)
    made = note_rigged(text, setup, light, rigged)
    unread = set_value(made.text, ("setup", setup, "light", light, "read"), None)
    said = f"{light}: {trim}; read it again"
    return Edited(unread.text, said, light, made.problems)


def stand_in_time() -> str:
    """The server's time with its offset, for a device that does not say its own."""
    return datetime.now().astimezone().isoformat(timespec="minutes")


def adopt_file(
    desk: Desk, number: int, light: str, name: str, content: bytes, *, by: Person
) -> Edit:
    """Puts a file beside a plan and returns the change that lets a light name it; the file is
    tried in the plan before anything is kept.

    Raises  EvencastError for a file that is no spectrum and no photometry
    """
    name = document_name(PurePosixPath(name.replace("\\", "/")).name)
    where = f"file {quoted(name)}"
    if not name.casefold().endswith(SPECTRA + PHOTOMETRY):
        raise EvencastError(
            "it is neither a spectrum nor a photometric file by its name",
            where=where,
            remedy=f"Drop a file that ends in {', '.join(SPECTRA + PHOTOMETRY)}.",
        )
    if len(content) > MOST_FILE_BYTES:
        raise EvencastError(
            "it is larger than 8 MB", where=where, remedy="Drop the spectrum alone."
        )
    found = desk.open(number)
    there = {folded(each.name): each for each in desk.library.documents(found.document.bundle)}
    same = there.get(folded(name))
    if same is not None and desk.library.read(same).content != content:
        name = _free(name, set(there))

    def edit(text: str) -> Edited:
        return _naming(text, light, name)

    _try(found.path, edit(found.text).text, name, content)
    desk.library.import_files(
        found.document.bundle, {name: content}, by=by.name, note=f"for {light}"
    )
    return edit


def _naming(text: str, light: str, name: str) -> Edited:
    path = ("light", light)
    if name.casefold().endswith(PHOTOMETRY):
        fields = {f"level.{each}": "" for each in ("lux", "fc", "ev", "f_stop", "cd", "watts")}
        fields |= {"level.exposure_index": "", "level.shutter_s": ""}
        return set_fields(text, path, fields | {"level.photometry": name})
    fields = {"builtin": "", "cct_k": "", "duv": "", "tint": ""}
    return set_fields(text, path, fields | {"spectrum": name})


def _try(plan: Path, text: str, name: str, content: bytes) -> None:
    """Stands the plan up with the file in it, in a folder that goes again."""
    with trial(plan.parent, {name: content, plan.name: text.encode()}) as folder:
        Standing(folder / plan.name, setup=_first(text) if "[[setup]]" in text else None)


def _first(text: str) -> str | None:
    return with_setup(text, "")[1]


def _free(name: str, taken: set[str]) -> str:
    stem, dot, ending = name.rpartition(".")
    tries = (f"{stem}-{at}{dot}{ending}" for at in range(2, 1000))
    return next(each for each in tries if folded(each) not in taken)
