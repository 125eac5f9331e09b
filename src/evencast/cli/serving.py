"""The app: on the laptop, and for the crew."""

from __future__ import annotations

import click

from evencast.cli.options import json_option, show

PORT = 8765


@click.command()
@click.option("--crew", is_flag=True, help="Let phones on one network join with a code.")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="0 takes one that is free.",
)
@click.option(
    "--interface",
    metavar="NAME",
    help="With --crew: the network the crew is on, by its name or this machine's address there.",
)
@json_option
def serve(crew: bool, port: int, interface: str | None, as_json: bool) -> None:
    """Serve the app to this laptop's browser, and with --crew to the crew.

    Nothing is opened by itself, and nobody else can join without --crew. The codes
    are new each time; who has joined stays in. Ctrl-C ends it.

    Example:  evencast serve --crew
    """
    if interface is not None and not crew:
        raise click.UsageError("--interface is for --crew: without it only this laptop is served")
    from evencast.cli import serving_text
    from evencast.web.interfaces import chosen
    from evencast.web.serve import serve as act

    network = chosen(interface) if crew else None
    act(
        port=port,
        crew=network,
        ready=lambda told: show(told, serving_text.serving, as_json=as_json),
    )
    if not as_json:
        click.echo("Ended. All that was saved is in the library.")
