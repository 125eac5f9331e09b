"""`look`: what the camera would see, and charts, computed from spectra."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from evencast.cli import look_charts
from evencast.cli.options import json_option, kind_option, kit_option, show


@click.group()
def look() -> None:
    """Say and draw what the camera would see.

    Example:  evencast look light tungsten "half CTB" --balance 5600K
    """


@look.command()
@click.argument("light")
@click.argument("filters", nargs=-1, metavar="[FILTER]...")
@click.option(
    "--balance",
    "balances",
    multiple=True,
    default=("3200K", "5600K"),
    show_default=True,
    metavar="BALANCE",
    help='4300K, 4300K+0.002 or "4300K 4 toward magenta"; as often as needed.',
)
@click.option(
    "--camera",
    default="eye",
    show_default=True,
    metavar="CAMERA",
    help="eye, camera A (a mosaic of filters), camera B (a layered sensor), or a file with the "
    "columns wavelength_nm,r,g,b.",
)
@click.option(
    "--display",
    default="sRGB",
    show_default=True,
    metavar="DISPLAY",
    help="sRGB, Rec. 709 or Display P3: what the colours are encoded for.",
)
@click.option(
    "--exposure",
    type=click.Choice(["held", "compensated"]),
    default="held",
    show_default=True,
    help="The stop as metered under the bare light, or made good for what the sheets take.",
)
@click.option(
    "--to",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Draw it to a new file, .svg or .png.",
)
@kind_option
@kit_option
@json_option
def light(light: str, filters: Sequence[str], as_json: bool, **options: Any) -> None:
    """Say and draw LIGHT, bare and through FILTER..., on a grey card, two skins and the chart.

    Example:  evencast look light FL2 "half CTO" --camera "camera A" --to tubes.svg
    """
    from evencast.actions.look import look_light as act
    from evencast.cli import look_text

    show(act(light, filters, **options), look_text.look_light, as_json=as_json)


for each in look_charts.ALL:
    look.add_command(each)
