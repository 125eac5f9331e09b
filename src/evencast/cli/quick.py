"""The quick sums of the set as commands: exposure, ratio and load, without a plan."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from evencast.cli.options import json_option, kind_option, kit_option, show

if TYPE_CHECKING:
    from evencast.camera.flicker import Mains

READING_OPTIONS = ("lux", "fc", "ev", "stop", "candela")


@click.command()
@click.argument("light")
@click.option("--lux", type=float, help="Illuminance read at --at.")
@click.option("--fc", type=float, help="The same in foot-candles.")
@click.option("--ev", type=float, help="Exposure value for ISO 100, read at --at.")
@click.option("--stop", metavar="STOP", help='Your meter\'s stop at --at: f/4, "f/4 at 400 1/50".')
@click.option(
    "--candela", metavar="CD", help="Candelas: 9000, 9000-60000, or a file .ies .ldt .gdtf."
)
@click.option("--at", metavar="DIST", help="How far from the bare light it was read: 3m, 10ft.")
@click.option("--to", metavar="DIST", help="How far from the light the subject is.")
@click.option("--size", metavar="DIST", help="How large the light is: minds the near field.")
@click.option("--through", multiple=True, metavar="FILTER", help="A sheet; as often as needed.")
@click.option(
    "--scrim",
    "scrims",
    multiple=True,
    type=click.Choice(["single", "double", "half single", "half double"]),
    help="A scrim; as often as needed.",
)
@click.option("--ei", type=float, default=800.0, show_default=True, help="Exposure index.")
@click.option("--shutter", default="180", show_default=True, help="Degrees, or a time: 1/50.")
@click.option("--fps", type=float, help="Frames per second.  [default: 24; 25 with --mains 50]")
@click.option("--mains", type=click.Choice(["50", "60"]), help="Mains frequency, for flicker.")
@click.option("--constant", type=float, help="Your meter's constant, instead of 250 and 330.")
@click.option("--want", metavar="STOP", help="The stop you want: says what is missing, and cures.")
@kind_option
@kit_option
@json_option
def expose(light: str, as_json: bool, mains: str | None, **options: Any) -> None:
    """Say what stop LIGHT gives at the subject, through sheets and scrims.

    LIGHT may say its watts, distance and focus; a reading of your own is better.

    Example:  evencast expose "650 tungsten 3m flood" --through "full CTB" --ei 800
    """
    from evencast.actions.expose import expose as act
    from evencast.actions.taking import Readings
    from evencast.cli import quick_text

    readings = Readings(**{name: options.pop(name) for name in READING_OPTIONS})
    frequencies: dict[str | None, Mains | None] = {None: None, "50": 50, "60": 60}
    answer = act(light, readings=readings, mains=frequencies[mains], **options)
    show(answer, quick_text.expose, as_json=as_json)


@click.command()
@click.argument("key")
@click.argument("fill")
@json_option
def ratio(key: str, fill: str, as_json: bool) -> None:
    """Say the lighting ratio of KEY and FILL in both definitions.

    Both as 400lx, 37fc or f/4, each light read alone; or FILL as the ratio wanted.

    Example:  evencast ratio 400lx 4:1
    """
    from evencast.actions.ratio import ratio as act
    from evencast.cli import quick_text

    show(act(key, fill), quick_text.ratio, as_json=as_json)


@click.command()
@click.argument("loads", nargs=-1, required=True, metavar="LOAD...")
@click.option("--volts", type=float, required=True, help="Mains voltage.")
@click.option("--breaker", "breaker_a", type=float, required=True, help="Amps of the breaker.")
@click.option(
    "--margin",
    "margin_percent",
    type=float,
    default=80.0,
    show_default=True,
    help="Percent of the breaker to use for hours.",
)
@json_option
def load(loads: Sequence[str], as_json: bool, **options: float) -> None:
    """Say whether one circuit carries LOAD..., and what is left.

    A load is its watts off the plate: 650, 2x650, "1.2kW pf 0.6".

    Example:  evencast load 2x650 2x100 200 --volts 120 --breaker 20
    """
    from evencast.actions.load import load as act
    from evencast.cli import quick_text

    show(act(loads, **options), quick_text.load, as_json=as_json)


ALL = (expose, ratio, load)
