from __future__ import annotations

from typing import get_args

import pytest

from evencast.errors import EvencastError
from evencast.lights import LightKind, kind_named
from evencast.lights.bases import bases_of
from evencast.lights.kinds import FAMILIES, REFUSED_KINDS, TRADE_WORDS, kinds_in
from evencast.lights.light import DISCHARGE_KINDS

EVERY = (
    "Accepted: tungsten, daylight, phosphor LED, RGB LED, three-band tube, halophosphate tube, "
    "broad-band tube, tube, HMI, metal halide, mercury, high-pressure sodium, low-pressure "
    "sodium, xenon, unknown; and the trade words LED (phosphor LED), fluorescent (tube), halogen "
    "(tungsten), incandescent (tungsten), sodium (high-pressure sodium)."
)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        *((kind, kind) for kind in get_args(LightKind)),
        *TRADE_WORDS.items(),
        ("hmi", "HMI"),
        ("led", "phosphor LED"),
        ("  Three-Band   TUBE ", "three-band tube"),
    ],
)
def test_kinds_and_trade_words(text: str, kind: str) -> None:
    """Upper or lower case."""
    assert kind_named(text) == kind


@pytest.mark.parametrize(
    ("text", "remedy"),
    [("tungstan", f"Did you mean tungsten? {EVERY}"), ("zzzz", EVERY), ("", EVERY)],
)
def test_another_word_is_told_every_kind(text: str, remedy: str) -> None:
    """With the nearest, where there is one."""
    with pytest.raises(EvencastError) as caught:
        kind_named(text)
    assert caught.value.what == f'"{text}" is no kind of light'
    assert caught.value.where == "--kind"
    assert caught.value.remedy == remedy


def test_every_kind_stands_for_something_or_is_refused() -> None:
    """Unknown is all kinds but the discharge lamps; refused are only those."""
    assert set(REFUSED_KINDS) < DISCHARGE_KINDS
    assert kinds_in("tube") == ("three-band tube", "halophosphate tube", "broad-band tube")
    families = {*DISCHARGE_KINDS, *FAMILIES}
    assert set(kinds_in("unknown")) == {k for k in get_args(LightKind) if k not in families}
    for kind in get_args(LightKind):
        assert kind in REFUSED_KINDS or len(bases_of(kind, 5000.0).names) > 4, kind


def test_the_spectra_of_one_kind_lie_together() -> None:
    """What draws from them relies on it; each spectrum has its name and no other's."""
    bases = bases_of("unknown", 5000.0)
    assert tuple(dict.fromkeys(bases.kinds)) == kinds_in("unknown")
    turns = sum(a != b for a, b in zip(bases.kinds, bases.kinds[1:], strict=False))
    assert turns == len(kinds_in("unknown")) - 1
    assert len(bases.names) == len(bases.kinds) == len(bases.power)
    fewer = bases.without({"cool white tube FL2"})
    assert len(fewer.names) == len(fewer.power) == len(bases.names) - 1
    assert "cool white tube FL2" not in fewer.names
