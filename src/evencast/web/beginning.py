"""Plans begun, by whoever begins them."""

from __future__ import annotations

from evencast.actions.beginning import file_for, folder_for, new_kit, new_plan
from evencast.store.library.values import Document
from evencast.web.desk import Desk
from evencast.web.people import Person


def begin_plan(desk: Desk, title: str, *, kit: int | None, mains_hz: int, by: Person) -> Document:
    """A new plan beside its kit.

    kit : number of its document; None for a bundle of its own with every generic filter
    """
    if kit is None:
        bundle = desk.new_bundle(folder_for(title, usual="plans"))
        text = new_kit("generic filters", generics=True)
        chosen = desk.library.add(bundle, "kit.toml", text.encode(), by=by.name)
    else:
        chosen = desk.document(kit, "kit")
    there = [*desk.library.documents(chosen.bundle), *desk.library.removed(chosen.bundle)]
    file = file_for(title, [each.name for each in there], usual="plan")
    text = new_plan(title, kit=chosen.name, mains_hz=mains_hz)
    return desk.library.add(chosen.bundle, file, text.encode(), by=by.name)
