"""One function per command. What it says is in `text`, what it does in `actions`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from evencast.cli import day, library, look, paper, quick, scout, serving
from evencast.cli.options import (
    ROLES,
    json_option,
    kind_option,
    kit_option,
    layers_option,
    show,
    write_option,
)


@click.command()
@click.option(
    "--to",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="Write the job's documents there, and its hand-outs below.",
)
@json_option
def demo(to: Path | None, as_json: bool) -> None:
    """Solve an invented job, complete with plan and kit.

    Example:  evencast demo --to bindery
    """
    from evencast.actions.demo import demo as act
    from evencast.cli import plan_text
    from evencast.cli.progress import progress

    with progress("Demo") as told:
        answer = act(to, progress=told)
    show(answer, plan_text.demo, as_json=as_json)


@click.command()
@click.argument("light")
@kind_option
@write_option("the light's spectrum")
@json_option
def light(light: str, kind: str | None, write: Path | None, as_json: bool) -> None:
    """Say what colour LIGHT is.

    Example:  evencast light "cool white tube FL2" --write tube.spdx
    """
    from evencast.actions.light import light as act
    from evencast.cli import plain

    show(act(light, kind=kind, write=write), plain.light, as_json=as_json)


@click.command()
@click.argument("light")
@click.argument("filters", nargs=-1, required=True, metavar="FILTER...")
@kind_option
@kit_option
@write_option("the transmittance of the stack")
@json_option
def through(light: str, filters: Sequence[str], as_json: bool, **options: Any) -> None:
    """Say what the stack FILTER... does to LIGHT.

    Example:  evencast through tungsten "half CTB" "eighth CTB" --write stack.csv
    """
    from evencast.actions.through import through as act
    from evencast.cli import plain

    show(act(light, filters, **options), plain.through, as_json=as_json)


@click.command()
@click.argument("light")
@click.option(
    "--aim",
    required=True,
    help='5600K, balance-30mired, "like LIGHT", "look late sun", 0.33,0.34 ...',
)
@click.option("--balance", help="The camera's balance, where the aim is an offset from it.")
@click.option(
    "--role",
    type=click.Choice(ROLES),
    default="key",
    show_default=True,
    help="What the light does for the picture; sets the tolerance.",
)
@layers_option
@click.option(
    "--most",
    type=click.IntRange(1, 100),
    default=5,
    show_default=True,
    help="Most choices to show.",
)
@kind_option
@kit_option
@json_option
def match(light: str, aim: str, as_json: bool, **options: Any) -> None:
    """Find the best stacks in front of LIGHT, from a kit or from every generic filter.

    Example:  evencast match FL2 --aim 3200K --role fill
    """
    from evencast.actions.match import match as act
    from evencast.cli import text

    show(act(light, aim_text=aim, **options), text.match, as_json=as_json)


@click.command()
@click.argument("plan", type=click.Path(path_type=Path))
@click.option("--setup", metavar="NAME", help="The set-up to solve; without it the plan itself.")
@click.option("--keep", is_flag=True, help="Write what was planned into that set-up of PLAN.")
@json_option
def solve(plan: Path, setup: str | None, keep: bool, as_json: bool) -> None:
    """Say what to put in front of every light of PLAN, and why.

    Example:  evencast solve bindery/plan.toml --setup "afternoon" --keep
    """
    from evencast.actions.keep import keep as keep_it
    from evencast.actions.solve import solve as act
    from evencast.cli import plan_text
    from evencast.cli.progress import progress

    with progress("Solving") as told:
        answer = (keep_it if keep else act)(plan, setup=setup, progress=told)
    show(answer, plan_text.solve, as_json=as_json)


@click.command()
@json_option
def lights(as_json: bool) -> None:
    """List the built-in lights.

    Example:  evencast lights
    """
    from evencast.actions.catalogue import lights as act
    from evencast.cli import text

    show(act(), text.lights, as_json=as_json)


@click.command()
@kit_option
@json_option
def filters(kit: Path | None, as_json: bool) -> None:
    """List the generic filters, or those of a kit, with what each does.

    Example:  evencast filters
    """
    from evencast.actions.catalogue import filters as act
    from evencast.cli import text

    show(act(kit), text.filters, as_json=as_json)


@click.command()
@click.argument("document", type=click.Choice(["kit", "plan"]), required=False)
@json_option
def schema(document: str | None, as_json: bool) -> None:
    """Print the JSON Schema of the kit or plan document, or of both.

    Example:  evencast schema plan
    """
    from evencast.actions.catalogue import schema as act
    from evencast.cli.as_json import dump

    show(act(document), dump, as_json=as_json)


@click.command()
@json_option
def where(as_json: bool) -> None:
    """Say which version this is and where its files are.

    Example:  evencast where
    """
    from evencast.actions.catalogue import where as act
    from evencast.cli import plain

    show(act(), plain.where, as_json=as_json)


ALL = (
    *(demo, light, through, match, solve),
    *(*day.ALL, *paper.ALL, look.look, scout.pack, *quick.ALL),
    serving.serve,
    library.library,
    *(lights, filters, scout.looks, schema, where),
)
