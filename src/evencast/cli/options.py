"""What commands share: their options, and how an answer is printed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])

ROLES = ("key", "fill", "background", "practical", "view", "other")


def json_option(command: Command) -> Command:
    """Every command's --json."""
    return click.option(
        "--json", "as_json", is_flag=True, help="One JSON object on standard output."
    )(command)


def kit_option(command: Command) -> Command:
    """--kit, wherever filters are named or searched."""
    return click.option(
        "--kit", type=click.Path(path_type=Path), metavar="KIT", help="A kit document (TOML)."
    )(command)


def layers_option(command: Command) -> Command:
    """--layers, wherever stacks are searched."""
    return click.option(
        "--layers",
        type=click.IntRange(1, 4),
        default=3,
        show_default=True,
        help="Most sheets in a stack.",
    )(command)


def kind_option(command: Command) -> Command:
    """--kind, wherever a light is named."""
    return click.option(
        "--kind", metavar="KIND", help="What the lamp is, where its name does not say it."
    )(command)


def write_option(what: str) -> Callable[[Command], Command]:
    """--write, where an answer is about a spectrum."""
    return click.option(
        "--write",
        type=click.Path(path_type=Path),
        metavar="FILE",
        help=f"Write {what} to a new file, .csv or .spdx (IES TM-27).",
    )


def show(answer: object, say: Callable[[Any], str], *, as_json: bool) -> None:
    """Print an answer as text, or as JSON."""
    if as_json:
        from evencast.cli.as_json import dump

        click.echo(dump(answer))
    else:
        from evencast.cli.plain import harmless

        click.echo(harmless(say(answer)))
