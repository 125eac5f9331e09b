"""The kinds of light a person may name, and which lamps stand for each."""

from __future__ import annotations

from typing import cast, get_args

from evencast.errors import EvencastError, nearest
from evencast.lights.light import LightKind

TRADE_WORDS: dict[str, LightKind] = {
    "LED": "phosphor LED",
    "fluorescent": "tube",
    "halogen": "tungsten",
    "incandescent": "tungsten",
    "sodium": "high-pressure sodium",
}
"""What is said on set for a kind. A bulb is none: it may be a filament or an LED."""

TUBES: tuple[LightKind, ...] = ("three-band tube", "halophosphate tube", "broad-band tube")

FAMILIES: dict[str, tuple[LightKind, ...]] = {
    "tube": TUBES,
    "unknown": ("tungsten", "daylight", "phosphor LED", "RGB LED", *TUBES),
}
"""Kinds that leave open which of several it is; every other kind stands for itself."""

REFUSED_KINDS: tuple[LightKind, ...] = (
    "metal halide",
    "mercury",
    "high-pressure sodium",
    "low-pressure sodium",
)
"""Lamps whose spectrum no reading tells."""


def kind_named(text: str) -> LightKind:
    """The kind of that name or trade word, upper or lower case.

    Raises  EvencastError with every kind
    """
    kinds = get_args(LightKind)
    found = kind_meant(text)
    if found is None:
        close = nearest(text, [*kinds, *TRADE_WORDS])
        raise EvencastError(
            f'"{text}" is no kind of light',
            where="--kind",
            remedy=(f"Did you mean {' or '.join(close)}? " if close else "")
            + f"Accepted: {', '.join(kinds)}; and the trade words "
            + f"{', '.join(f'{word} ({kind})' for word, kind in TRADE_WORDS.items())}.",
        )
    return found


def kind_meant(text: str) -> LightKind | None:
    """The kind of that name or trade word, upper or lower case; None for other words."""
    known = {kind.casefold(): kind for kind in get_args(LightKind)}
    known |= {word.casefold(): kind for word, kind in TRADE_WORDS.items()}
    found = known.get(" ".join(text.casefold().split()))
    return None if found is None else cast(LightKind, found)


def kinds_in(kind: str) -> tuple[str, ...]:
    """The kinds that a kind leaves open: the three tubes for "tube", itself for most."""
    return FAMILIES.get(kind, (kind,))
