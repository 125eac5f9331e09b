"""What is settled before the day: the looks, and what to pack."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click

from evencast.cli.options import ROLES, json_option, layers_option, show


@click.command()
@json_option
def looks(as_json: bool) -> None:
    """List the looks: colours wanted on purpose, as offsets from the balance.

    Example:  evencast looks
    """
    from evencast.actions.catalogue import looks as act
    from evencast.cli import looks_text

    show(act(), looks_text.looks, as_json=as_json)


@click.command()
@click.argument("kit")
@click.argument("lights", nargs=-1, metavar="[LIGHT]...")
@click.option(
    "--balance",
    "balances",
    multiple=True,
    default=("3200K", "4300K", "5600K"),
    show_default=True,
    help="A balance of the camera; as often as needed.",
)
@click.option(
    "--role",
    type=click.Choice(ROLES),
    default="fill",
    show_default=True,
    help="What the lights do for the picture; sets the tolerance.",
)
@layers_option
@json_option
def pack(kit: str, lights: Sequence[str], as_json: bool, **options: Any) -> None:
    """Find the fewest sheets of KIT for LIGHT..., or for lights a place may have.

    KIT is a kit document, or the word generic for every generic filter.

    Example:  evencast pack generic tungsten bulb FL2 D65 --balance 4300K --layers 2
    """
    from evencast.actions.pack import pack as act
    from evencast.cli import pack_text

    show(act(kit, lights, **options), pack_text.pack, as_json=as_json)
