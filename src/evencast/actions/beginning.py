"""A plan or a kit begun: its first text, and the name of its file."""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Collection

from evencast.errors import EvencastError
from evencast.filters import generic, generic_names
from evencast.plan.edit import with_values

LONGEST_TITLE = 120
LONGEST_STEM = 60
ROOM_FOR_A_NUMBER = 4
OPEN_BALANCE = {"low_k": 2800, "high_k": 6500, "step_k": 100}
"""What cameras dial and scenes call for; the answer says which of it is best."""

_NOTE = (
    "# One of every generic filter, known by its name alone and with nobody counting.\n"
    "# Take out what you do not have, and say what there is of the rest.\n"
)


def new_plan(name: str, *, kit: str, mains_hz: int) -> str:
    """A plan without a light, the balance left open.

    kit      : the file of its kit, from where the plan lies
    mains_hz : 50 or 60
    """
    keys = (
        (("name",), name),
        (("kit",), kit),
        (("mains_hz",), mains_hz),
        (("camera",), {"balance": OPEN_BALANCE}),
    )
    return with_values("format = 1\n", keys, where="the plan")


def new_kit(name: str, *, generics: bool) -> str:
    """A kit with one of every generic filter, or without any."""
    begun = f"{_NOTE if generics else ''}format = 1\n"
    text = with_values(begun, [(("name",), name)], where="the kit")
    return text + "".join(map(_entry, generic_names() if generics else ()))


def _entry(name: str) -> str:
    each = generic(name)
    keys = {"name": name, "role": each.role, "series": each.series, "generic": name}
    lines = [f"{key} = {json.dumps(value)}" for key, value in keys.items() if value]
    return "\n[[filter]]\n" + "\n".join(lines) + "\n"


def file_for(title: str, taken: Collection[str], *, usual: str) -> str:
    """A file name for a document of that title which no other has: "night-bindery.toml".

    usual : what it is called where the title has no letter that a file name takes
    """
    plain = unicodedata.normalize("NFKC", title).casefold()
    kept = "".join(each if each.isalnum() else " " for each in plain)
    stem = "-".join(kept.split())[:LONGEST_STEM].strip("-") or usual
    if not _is_name(f"{stem}.toml"):  # such as con.toml, which is a device on Windows
        stem = f"{usual}-{stem}"
    there = {each.casefold() for each in taken}
    tried = [stem, *(f"{stem}-{number}" for number in range(2, len(there) + 3))]
    return next(f"{each}.toml" for each in tried if f"{each}.toml" not in there)


def folder_for(title: str, *, usual: str) -> str:
    """A name of a bundle for what is called so, as near to it as a folder's name can be."""
    from evencast.store.library.names import LONGEST_BUNDLE, bundle_name

    kept = "".join(each if each.isalnum() or each in " -_,()&'+" else " " for each in title)
    name = " ".join(kept.split())[: LONGEST_BUNDLE - ROOM_FOR_A_NUMBER].strip(" -_,")
    try:
        return bundle_name(name)
    except EvencastError:
        return usual


def title_of(text: str, *, what: str) -> str:
    """What a person calls a plan or a kit, as one line.

    Raises  EvencastError where it is empty, too long, or holds what no line of text does
    """
    from evencast.store.library.names import line_of_text

    title = line_of_text(text, what=what, longest=LONGEST_TITLE)
    if not title:
        raise EvencastError("it has no name", where=what, remedy="Say what it is called.")
    return title


def _is_name(text: str) -> bool:
    from evencast.store.library.names import document_name  # loads the database library

    try:
        document_name(text)
    except EvencastError:
        return False
    return True
