"""Charts of plans, kits and lights as commands of `look`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

from evencast.cli.options import json_option, kind_option, kit_option, show

Command = TypeVar("Command", bound=Callable[..., Any])


def drawing_options(command: Command) -> Command:
    """--ground and --to, wherever a chart is drawn."""
    command = click.option(
        "--to",
        type=click.Path(path_type=Path, dir_okay=False),
        metavar="FILE",
        help="Draw it to a new file, .svg or .png; without it the chart is told as a table.",
    )(command)
    return click.option(
        "--ground",
        type=click.Choice(["paper", "screen"]),
        default="paper",
        show_default=True,
        help="Light, to be printed, or dark.",
    )(command)


def balance_option(otherwise: str) -> Callable[[Command], Command]:
    """--balance, where colours are shown."""
    return click.option(
        "--balance",
        metavar="BALANCE",
        help=f'Shows colours as balanced so: 4300K, "4300K 4 toward magenta".  '
        f"[default: {otherwise}]",
    )


@click.command()
@click.argument("plan", type=click.Path(path_type=Path))
@click.option("--setup", metavar="NAME", help="The set-up; without it the plan itself.")
@click.option(
    "--chart",
    type=click.Choice(["lights", "colours", "ladder", "residuals"]),
    default="lights",
    show_default=True,
    help="Before and after against the balance; in u', v'; levels; what is left.",
)
@click.option(
    "--hangs", is_flag=True, help="As it hangs in the set-up, rigged or planned; nothing is solved."
)
@click.option("--balance", metavar="BALANCE", help="Of what hangs: another than the plan's.")
@drawing_options
@json_option
def plan(plan: Path, as_json: bool, **options: Any) -> None:
    """Draw a chart of PLAN, solved or as it hangs.

    Example:  evencast look plan bindery/plan.toml --chart ladder --to levels.svg
    """
    from evencast.actions.look_charts import look_plan as act
    from evencast.cli import chart_text
    from evencast.cli.progress import progress

    with progress("Solving") as told:
        answer = act(plan, progress=told, **options)
    show(answer, chart_text.chart, as_json=as_json)


@click.command()
@click.argument("light")
@click.argument("filters", nargs=-1, metavar="[FILTER]...")
@click.option(
    "--of",
    type=click.Choice(["power", "transmittance"]),
    default="power",
    show_default=True,
    help="The light, bare and through the stack; or what each sheet lets through.",
)
@balance_option("the bare light")
@kind_option
@kit_option
@drawing_options
@json_option
def spectra(light: str, filters: Sequence[str], as_json: bool, **options: Any) -> None:
    """Draw the spectrum of LIGHT, bare and through the stack FILTER...

    Example:  evencast look spectra FL2 "half CTO" "quarter minus green" --to tubes.svg
    """
    from evencast.actions.look_charts import look_spectra as act
    from evencast.cli import chart_text

    show(act(light, filters, **options), chart_text.chart, as_json=as_json)


@click.command()
@click.argument("kit", type=click.Path(path_type=Path))
@click.option(
    "--light",
    "light_text",
    metavar="LIGHT",
    help="What all are in front of.  [default: the white that each is named for]",
)
@kind_option
@balance_option("what is behind each filter")
@drawing_options
@json_option
def kit(kit: Path, as_json: bool, **options: Any) -> None:
    """Draw what every filter of KIT costs against what it does.

    Example:  evencast look kit bindery/kit.toml --light tungsten --to kit.svg
    """
    from evencast.actions.look_charts import look_kit as act
    from evencast.cli import chart_text

    show(act(kit, **options), chart_text.chart, as_json=as_json)


@click.command()
@click.argument("lights", nargs=-1, required=True, metavar="LIGHT...")
@click.option(
    "--balance",
    default="5600K",
    show_default=True,
    metavar="BALANCE",
    help='Drawn as a cross; colours are shown as balanced so: "4300K 4 toward magenta".',
)
@kind_option
@drawing_options
@json_option
def colours(lights: Sequence[str], as_json: bool, **options: Any) -> None:
    """Draw where LIGHT... lie in the CIE 1976 u', v' diagram.

    Example:  evencast look colours FL2 FL4 tungsten D65 --to tubes.svg
    """
    from evencast.actions.look_charts import look_colours as act
    from evencast.cli import chart_text

    show(act(lights, **options), chart_text.chart, as_json=as_json)


ALL = (plan, spectra, kit, colours)
