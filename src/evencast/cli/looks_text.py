"""Looks as text: each offset in words, with how it is made."""

from __future__ import annotations

from evencast.cli.plain import bullets, pairs, sentence
from evencast.quantities import say_duv, say_mired, say_stops
from evencast.results.catalogue import CatalogueLook


def looks(answer: dict[str, list[CatalogueLook]]) -> str:
    """Every look."""
    every = answer["looks"]
    lines = [
        sentence(
            f"{len(every)} looks, each an offset from the camera's balance (common practice, no "
            'source). `evencast match LIGHT --aim "look NAME" --balance 3200K` finds the sheets '
            "for the middle of one."
        )
    ]
    for each in every:
        rows = [
            ("colour", f"{mired_in_words(each)}, {duv_in_words(each)}"),
            ("level", level_in_words(each)),
            ("how", each.how),
        ]
        if each.note:
            rows.append(("know", each.note))
        lines += ["", each.name, *pairs(rows)]
    return "\n".join(lines + bullets("Mind", _cautions(every)))


def mired_in_words(each: CatalogueLook) -> str:
    """The offset from the balance: "17 to 67 mired cool"."""
    low, high = sorted(each.mired_range, key=abs)
    if low * high > 0:
        return f"{abs(low):.0f} to {say_mired(high)}"
    return f"{say_mired(low)} to {say_mired(high)}"


def duv_in_words(each: CatalogueLook) -> str:
    """Green or magenta beside the white of that Kelvin, with its number where there is any."""
    low, high = each.duv_range
    if low == high == 0.0:
        return "neither green nor magenta"
    words = dict.fromkeys((say_duv(low), say_duv(high)))
    numbers = " to ".join("0" if end == 0 else f"{end:+.4f}" for end in each.duv_range)
    return f"{' to '.join(words)} (Duv {numbers})"


def level_in_words(each: CatalogueLook) -> str:
    """The level against the key."""
    if each.stops_range is None:
        return "as you like"
    near, far = sorted(each.stops_range, key=abs)
    side = "under" if far < 0 else "over"
    return f"{say_stops(near)} to {say_stops(far)} {side} the key"


def _cautions(every: list[CatalogueLook]) -> list[str]:
    """Every caution once, with the looks it belongs to."""
    of: dict[str, list[str]] = {}
    for each in every:
        for caution in each.cautions:
            of.setdefault(caution, []).append(each.name)
    return [f"{', '.join(names)}: {caution}" for caution, names in of.items()]
