"""What is asked on the day, with a plan at hand: a trim, and what differs from before."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from evencast.cli.options import json_option, show

READING_OPTIONS = ("lux", "fc", "ev", "stop")


@click.command()
@click.argument("plan", type=click.Path(path_type=Path))
@click.argument("light")
@click.option("--setup", metavar="NAME", help="The set-up.  [default: the plan's only one]")
@click.option("--read", metavar="READING", help="What a colour meter says: 5480K+0.001.")
@click.option("--camera", metavar="READING", help='A camera: 5200K, "5200K 4 toward magenta".')
@click.option("--stop", metavar="STOP", help='What a meter says: f/4, "f/4 at 400 1/50".')
@click.option("--lux", type=float, help="Illuminance at the subject.")
@click.option("--fc", type=float, help="The same in foot-candles.")
@click.option("--ev", type=float, help="Exposure value for ISO 100.")
@click.option("--balance", metavar="BALANCE", help="The camera's balance, if not the plan's.")
@json_option
def trim(plan: Path, light: str, as_json: bool, **options: Any) -> None:
    """Say the one change that brings LIGHT, as it hangs and reads, nearest to its aim.

    What hangs is what the set-up says was rigged, else planned. Without a reading the set-up's
    own is taken.

    Example:  evencast trim bindery/plan.toml "north window" --read 5200K+0.004 --balance 4300K
    """
    from evencast.actions.taking import Readings
    from evencast.actions.trim import trim as act
    from evencast.cli import day_text

    readings = Readings(**{name: options.pop(name) for name in READING_OPTIONS})
    show(act(plan, light, readings=readings, **options), day_text.trim, as_json=as_json)


@click.command()
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path), required=False)
@click.option("--setup", metavar="NAME", help="The set-up in both.  [default: each's only one]")
@click.option("--with", "with_setup", metavar="NAME", help="The new set-up, if called otherwise.")
@json_option
def compare(old: Path, new: Path | None, as_json: bool, **options: Any) -> None:
    """Say lamp by lamp what differs from the plan OLD in NEW, and how to get back to the old.

    Two set-ups of one plan: leave NEW out, and name both.

    Example:  evencast compare bindery/plan.toml bindery/plan.toml
    """
    from evencast.actions.compare import compare as act
    from evencast.cli import compare_text

    show(act(old, new, **options), compare_text.compare, as_json=as_json)


ALL = (trim, compare)
