"""The library from the terminal: for the night on which the laptop is broken."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from evencast.cli.options import json_option, show

_A_PATH = click.Path(path_type=Path)


@click.group()
def library() -> None:
    """Look after the library: check it, back it up, put it back, carry bundles.

    EVENCAST_LIBRARY names its folder, or a PostgreSQL database; `evencast where`
    tells which one it is.

    Example:  evencast library check
    """


@library.command()
@json_option
def check(as_json: bool) -> None:
    """Read every byte of the library, and name its bundles and backups.

    Example:  evencast library check
    """
    from evencast.actions.library import check as act
    from evencast.cli import library_text

    show(act(), library_text.check, as_json=as_json)


@library.command()
@click.option(
    "--to", type=_A_PATH, metavar="DIR", help="A folder elsewhere, such as on a memory stick."
)
@json_option
def backup(to: Path | None, as_json: bool) -> None:
    """Write all of the library into one dated archive, and read it back.

    Backups are written by themselves once a day. Kept are the newest of each of the
    last 7 days that have one, and of the last 4 weeks.

    Example:  evencast library backup --to stick
    """
    from evencast.actions.library import backup as act
    from evencast.cli import library_text

    show(act(to), library_text.backup, as_json=as_json)


@library.command()
@click.argument("file", type=_A_PATH, required=False)
@json_option
def restore(file: Path | None, as_json: bool) -> None:
    """Put back FILE, or the last good backup and every edit since.

    What is there is set aside in a dated folder; nothing is deleted.

    Example:  evencast library restore
    """
    from evencast.actions.library import restore as act
    from evencast.cli import library_text

    show(act(file, at=datetime.now(UTC)), library_text.restore, as_json=as_json)


@library.command(name="import")
@click.argument("path", type=_A_PATH)
@click.option("--bundle", metavar="NAME", help="What it is called.  [default: as PATH is]")
@click.option(
    "--by", metavar="NAME", default="this laptop", show_default=True, help="Who imports it."
)
@json_option
def import_(path: Path, bundle: str | None, by: str, as_json: bool) -> None:
    """Take in a folder or a .zip; what differs becomes a new revision.

    Example:  evencast library import bindery
    """
    from evencast.actions.library import carry_in as act
    from evencast.cli import library_text

    show(act(path, bundle=bundle, by=by), library_text.carried_in, as_json=as_json)


@library.command()
@click.argument("bundle")
@click.option(
    "--to", type=_A_PATH, metavar="PATH", help="A folder or a .zip.  [default: as BUNDLE is named]"
)
@json_option
def export(bundle: str, to: Path | None, as_json: bool) -> None:
    """Write the newest bytes of every document of BUNDLE.

    Example:  evencast library export bindery --to copy
    """
    from evencast.actions.library import carry_out as act
    from evencast.cli import library_text

    show(act(bundle, to=to), library_text.carried_out, as_json=as_json)
