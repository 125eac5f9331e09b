"""Two changed versions of one document brought together, section by section and key by key.

What only one of the two changed is kept; what both changed to different values is shown, with
both versions, and decided by a person. Text in, text out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from evencast.actions.editing.document import PLAN, Data, Sort, at_place, entries, opened
from evencast.actions.merging.changes import (
    KEYED,
    NOTHING,
    Change,
    changes,
    differs,
    plain,
    said_value,
    same,
    say,
    where,
)
from evencast.actions.merging.lines import merged_lines
from evencast.errors import DocumentErrors, EvencastError
from evencast.plan.edit import Path, with_values
from evencast.plan.place import folded
from evencast.results.editing import Clash, Merged

REMARKS = (
    "What you changed was put into the other version; remarks that you wrote by hand "
    "could not all be carried over."
)
ORDER = "The order in which you put each {} was not carried over."


def merge(base: str, mine: str, theirs: str, *, sort: Sort = PLAN) -> Merged:
    """My changes of a document put into the version that another saved meanwhile.

    base : the version that both began with
    Returns the other's text with every change of mine that does not clash, its layout and remarks
            as they are; and what clashes
    Raises  DocumentErrors where one of the three cannot be read at all
    """
    if mine == base:
        return Merged(theirs, [], [], [])
    from_base = opened(sort, base)
    my_changes = changes(from_base, opened(sort, mine))
    if theirs in (base, mine):
        return Merged(mine, [], [] if theirs == mine else [say(each) for each in my_changes], [])
    to_theirs = opened(sort, theirs)
    their_changes = changes(from_base, to_theirs)
    clashes, wanted = _sorted_out(my_changes, their_changes)
    try:
        text, notes = _together(sort, (base, mine, theirs), wanted, apart=not clashes)
    except EvencastError as error:
        unfit = _unfit(error, my_changes, their_changes)
        return Merged(theirs, [*clashes, unfit], [], [])
    return Merged(text, clashes, [say(each) for each in wanted], notes)


def settle(text: str, clash: Clash, *, sort: Sort = PLAN) -> str:
    """The merged text with my version of one clash in place of theirs.

    Raises  EvencastError for a clash of whole versions, which only a person can mend
    """
    if not clash.path:
        raise EvencastError(
            "each version is sound and both together are not",
            where=clash.where,
            remedy="Keep one of the two whole, or change one of them.",
        )
    new = NOTHING if clash.mine is None else clash.mine
    change = Change(tuple(map(str, clash.path)), NOTHING, new)
    return _made(sort, text, change)


def _together(
    sort: Sort,
    texts: tuple[str, str, str],
    wanted: Sequence[Change],
    *,
    apart: bool,
) -> tuple[str, list[str]]:
    """Their text with my changes, by lines where that says the same and keeps my remarks too.

    apart : whether nothing clashes
    Raises  EvencastError where the two do not fit together
    """
    base, my_text, their_text = texts
    text = _all_made(sort, their_text, wanted)
    errors = [each for each in sort.new_problems(text, *texts) if each.severity == "error"]
    if errors:
        raise DocumentErrors(sort.where, errors)
    by_lines = merged_lines(base, my_text, their_text) if apart else None
    if by_lines is not None and _says_the_same(sort, text, by_lines):
        return by_lines, []
    notes = [REMARKS] if _remarks_lost(base, my_text, text) else []
    datas = [opened(sort, each) for each in (base, my_text, text)]
    return text, notes + [ORDER.format(key) for key in KEYED if _order_lost(key, *datas)]


def _order_lost(key: str, base: Data, mine: Data, merged: Data) -> bool:
    """Whether I put the entries of a list into another order, and the merged text has not."""
    old, new, now = (_names(each, key) for each in (base, mine, merged))
    moved = [each for each in new if each in old] != [each for each in old if each in new]
    return moved and [each for each in new if each in now] != [each for each in now if each in new]


def _names(data: Data, key: str) -> list[str]:
    return [str(each.get("name")) for each in entries(data, (key,)) if isinstance(each, dict)]


def _remarks_lost(base: str, mine: str, merged: str) -> bool:
    """Whether I wrote a remark that the merged text has not."""
    there = set(base.splitlines())
    fresh = [line for line in mine.splitlines() if line not in there and "#" in line]
    return any(line.partition("#")[2] not in merged for line in fresh)


def _says_the_same(sort: Sort, text: str, by_lines: str) -> bool:
    try:
        return not changes(opened(sort, text), opened(sort, by_lines))
    except DocumentErrors:
        return False


def _sorted_out(
    mine: Sequence[Change], theirs: Sequence[Change]
) -> tuple[list[Clash], list[Change]]:
    """What clashes, and which of my changes are still to be made."""
    clashes: list[Clash] = []
    wanted: list[Change] = []
    for change in mine:
        meeting = [each for each in theirs if _meet(change, each)]
        if not meeting:
            wanted.append(change)
            continue
        made = _both(change, meeting[0]) if len(meeting) == 1 else None
        if made is None:
            clashes.append(_clash(change, meeting))
        else:
            wanted += made
    return clashes, wanted


def _meet(one: Change, other: Change) -> bool:
    """Whether one changes a place that lies in a place of the other."""
    return any(
        all(folded(a) == folded(b) for a, b in zip(mine, theirs, strict=False))
        for mine in _places(one)
        for theirs in _places(other)
    )


def _places(change: Change) -> list[tuple[str, ...]]:
    """Where it is, and where it will be once it is called otherwise."""
    name = change.new.get("name") if isinstance(change.new, Mapping) else None
    called = [(*change.path[:-1], name)] if isinstance(name, str) and len(change.path) > 1 else []
    return [change.path, *called]


def _both(mine: Change, theirs: Change) -> list[Change] | None:
    """My change beside theirs of one thing: what is still to be made where one of the two holds
    the other; None where they are different."""
    if mine.path != theirs.path:
        return None
    if same(mine.new, theirs.new):
        return []
    if not all(isinstance(each, Mapping) for each in (mine.old, mine.new, theirs.new)):
        return None
    my_keys, their_keys = (
        {key: each.get(key, NOTHING) for key in {*mine.old, *each} if differs(mine.old, each, key)}
        for each in (mine.new, theirs.new)
    )
    if _holds(their_keys, my_keys):
        return []
    return [mine] if _holds(my_keys, their_keys) else None


def _holds(many: Mapping[str, Any], few: Mapping[str, Any]) -> bool:
    return all(key in many and same(many[key], each) for key, each in few.items())


def _clash(mine: Change, meeting: Sequence[Change]) -> Clash:
    """My change against those of theirs that touch the same place."""
    theirs = meeting[0]
    inside = len(theirs.path) > len(mine.path) or len(meeting) > 1
    their_value = {"/".join(each.path): plain(each.new) for each in meeting} if inside else None
    base = theirs.old if len(theirs.path) < len(mine.path) else mine.old
    return Clash(
        path=mine.path,
        where=where(mine.path),
        base=plain(base),
        mine=plain(mine.new),
        theirs=their_value if inside else plain(theirs.new),
        base_said=said_value(mine.path, base),
        mine_said=say(mine),
        theirs_said="; ".join(map(say, meeting)),
    )


def _unfit(error: EvencastError, mine: Sequence[Change], theirs: Sequence[Change]) -> Clash:
    """Both versions as a whole, where each is sound and together they are not."""
    found = error.problems[0] if isinstance(error, DocumentErrors) else None
    place, what = (found.where, found.message) if found else (error.where, error.what)
    return Clash(
        path=(),
        where=f"{place}: {what}",
        base=None,
        mine={"/".join(each.path): plain(each.new) for each in mine},
        theirs={"/".join(each.path): plain(each.new) for each in theirs},
        base_said="",
        mine_said="; ".join(map(say, mine)),
        theirs_said="; ".join(map(say, theirs)),
    )


def _all_made(sort: Sort, text: str, wanted: Sequence[Change]) -> str:
    for change in wanted:
        text = _made(sort, text, change)
    return text


def _made(sort: Sort, text: str, change: Change) -> str:
    """The text with one change made."""
    data = opened(sort, text)
    return with_values(text, _steps(data, change), where=sort.where)


def _steps(data: Data, change: Change) -> list[tuple[Path, Any]]:
    """One change in the keys of a document; of a table that is there, those that differ."""
    path, missing = _numbered(data, change.path)
    if missing:
        if change.new is NOTHING:
            return []
        return [_wrapped(path, change.new, missing)]
    now = at_place(data, path)
    if change.new is NOTHING:
        return [(path, None)]
    if isinstance(now, dict) and isinstance(change.new, Mapping):
        return [
            step
            for key in dict.fromkeys([*now, *change.new])
            if differs(now, change.new, key)
            for step in _set((*path, key), now.get(key), change.new.get(key))
        ]
    return _set(path, now, change.new)


def _set(path: Path, now: Any, new: Any) -> list[tuple[Path, Any]]:
    """The steps that write a value; 0.5 for 0.50 is another rounding, though the same number."""
    again = now is not None and now == new
    return [(path, None), (path, new)] if again else [(path, new)]


def _wrapped(path: Path, value: Any, missing: int) -> tuple[Path, Any]:
    """The value with the tables round it that are not there yet."""
    there = len(path) - missing + 1
    for step in reversed(path[there:]):
        value = {step: value}
    return path[:there], value


def _numbered(data: Data, path: tuple[str, ...]) -> tuple[Path, int]:
    """The path with numbers for names; and how many of its last steps are not there."""
    done: list[str | int] = []
    inside: Any = data
    for at, step in enumerate(path):
        listed = at > 0 and path[at - 1] in KEYED and (isinstance(inside, list) or inside is None)
        key: str | int = _number(inside or [], step) if listed else step
        done.append(key)
        try:
            inside = inside[key] if inside is not None else None
        except (LookupError, TypeError):
            inside = None
        if inside is None and not (step in KEYED and at == len(path) - 2):
            return [*done, *path[at + 1 :]], len(path) - at
    return done, 0


def _number(there: list[Any], name: str) -> int:
    names = [
        folded(str(each.get("name", ""))) if isinstance(each, dict) else None for each in there
    ]
    return names.index(folded(name)) if folded(name) in names else len(there)
