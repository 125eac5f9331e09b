"""A process killed in the middle of saving, or of bringing the tables up to date."""

from __future__ import annotations

import signal
from pathlib import Path

import pytest

from evencast.store.library import Library
from tests.faults.child import make_first_version
from tests.faults.children import Nursery, killed_at_random


def test_killed_while_saving(place: str, nursery: Nursery) -> None:
    """Ten times on either database: whatever was acknowledged is there, the rest is not half
    there."""
    told, saves = killed_at_random(nursery, place, times=10, seed=7, most_lines=24)
    assert len(told.bundles) == 10
    assert saves > 60
    print(f"{saves} saves acknowledged, {told.backups} backups, 10 children killed")


def test_killed_while_several_save(place: str, nursery: Nursery, tmp_path: Path) -> None:
    """Three programs at once on one library: each waits for the others, and no change is lost
    between them."""
    told, saves = killed_at_random(nursery, place, times=2, seed=9, most_lines=14, at_once=3)
    assert len(told.bundles) == 6
    assert saves > 6
    with Library.open(place) as library:
        library.backup(to=tmp_path / "stick")  # refused where a number of a change is missing


@pytest.mark.long
def test_killed_while_saving_two_hundred_times(place: str, nursery: Nursery) -> None:
    """As above, a hundred times on either database, later in their work too."""
    told, saves = killed_at_random(nursery, place, times=100, seed=8, most_lines=60)
    assert len(told.bundles) == 100
    assert saves > 1500
    print(f"{saves} saves acknowledged, {told.backups} backups, 100 children killed")


@pytest.mark.parametrize("old", [False, True], ids=["new", "of the first version"])
def test_killed_before_any_statement_of_a_migration(
    place: str, nursery: Nursery, old: bool
) -> None:
    """The tables are as they were or as they shall be, and what was in them is there."""
    if old:
        make_first_version(place)
    kills = 0
    for statement in range(1, 200):
        child = nursery.child("upgrade_and_die", place, str(statement))
        ended = child.wait()
        if child.lines() == ["opened"]:
            break
        assert ended == -signal.SIGKILL
        kills += 1
    else:
        pytest.fail("the migration never came to its end")
    assert kills > 10
    with Library.open(place) as library:
        checked = library.check()
        assert (checked.faults, checked.mended) == ((), ())
        if old:
            assert library.read(library.document(library.bundle("b"), "plan.toml")).content == b"a"
        document = library.add(library.new_bundle("after"), "plan.toml", b"1", by="A")
        assert library.read(document).content == b"1"
