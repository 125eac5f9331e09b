from __future__ import annotations

from typing import get_args

from evencast.cli.options import ROLES
from evencast.plan.tolerance import LightRole
from tests.unit.cli.calling import run


def test_the_kind_that_is_said_decides_the_cautions() -> None:
    """A bare reading of a lamp known to be tungsten is warned of its heat."""
    asked = ("through", "3100K+0.001", "full CTB", "--json")
    unknown, tungsten = run(*asked), run(*asked, "--kind", "tungsten")
    assert unknown.answer["cautions"] == []
    assert tungsten.answer["bare"]["kind"] == "tungsten"
    assert tungsten.answer["cautions"][0].startswith("Heat:")


def test_an_unknown_kind_is_told_the_nearest() -> None:
    """Exit 2, with what would be accepted."""
    ran = run("light", "FL2", "--kind", "tungstan", "--json")
    assert ran.code == 2
    assert ran.error["what"] == '"tungstan" is no kind of light'
    assert ran.error["remedy"].startswith("Did you mean tungsten? Accepted: tungsten, daylight, ")


def test_the_roles_of_the_command_are_those_of_the_plan() -> None:
    """One list of roles."""
    assert get_args(LightRole) == ROLES
