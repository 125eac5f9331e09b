"""What is settled before the day: the looks, and what to pack."""

from __future__ import annotations

import click

from evencast.cli.options import json_option, show


@click.command()
@json_option
def looks(as_json: bool) -> None:
    """List the looks: colours wanted on purpose, as offsets from the balance.

    Example:  evencast looks
    """
    from evencast.actions.catalogue import looks as act
    from evencast.cli import looks_text

    show(act(), looks_text.looks, as_json=as_json)
