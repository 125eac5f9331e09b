"""Anchors: what an address may end in, and that no two lights share one."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.handouts.anchor import anchor

FORM = re.compile(r"[a-z][a-z0-9-]{0,23}-[a-z2-7]{8}")


def test_it_can_be_read_and_never_changes() -> None:
    """A card printed last year still leads to its light."""
    assert anchor("bench lamp", "") == "bench-lamp-3x2a7lgy"
    assert anchor("bench lamp", "night") == "bench-lamp-pu4fwrhb"


@pytest.mark.parametrize("name", ["", "灯", "🎬🎬", "מנורה", "12", "--", "n" * 300, "Ängström 3"])
def test_any_name_has_one(name: str) -> None:
    assert FORM.fullmatch(anchor(name, name))


def test_names_that_look_alike_have_their_own() -> None:
    names = ["Key", "key", "KEY", "key ", "ke y", "kéy", "灯", "燈", "🎬", "🎥", "", "n" * 99]
    every = [(light, setup) for light in names for setup in [*names, "key key"]]
    assert len({anchor(*each) for each in every}) == len(every)
    assert anchor("a b", "c") != anchor("a", "b c")
    assert anchor('a", "b', "") != anchor("a", "b")


@given(st.text(), st.text())
def test_the_form_holds_for_all(light: str, setup: str) -> None:
    assert FORM.fullmatch(anchor(light, setup))
