"""Writes docs/cli-reference.md from what each command's --help says; --check only compares."""

from __future__ import annotations

import sys
from pathlib import Path

import click

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "cli-reference.md"
sys.path[:0] = [str(ROOT / "src")]

from evencast.cli import main  # noqa: E402 - the checkout's own, found by the line above


def reference() -> str:
    """The page."""
    parts = [
        "# Commands",
        "",
        "Made from `--help` by `python builders/cli_reference.py`. Every command takes `--json` "
        "and then prints exactly one JSON object. Exit code 0 is success, also when a light "
        "cannot be reached; 1 means a document has errors; 2 a bad call or unreadable input.",
        "",
        _block(main, "evencast"),
    ]
    for name, command in every_command().items():
        parts += ["", f"## {name}", "", _block(command, f"evencast {name}")]
    return "\n".join(parts) + "\n"


def every_command() -> dict[str, click.Command]:
    """Every command by its words, a group before what it holds: "look", "look light"."""
    found: dict[str, click.Command] = {}
    for name, command in main.commands.items():
        found[name] = command
        if isinstance(command, click.Group):
            found |= {f"{name} {each}": held for each, held in command.commands.items()}
    return found


def _block(command: click.Command, called: str) -> str:
    context = click.Context(
        command,
        info_name=called,
        terminal_width=80,
        max_content_width=80,
        help_option_names=["-h", "--help"],
    )
    return f"```\n{command.get_help(context).rstrip()}\n```"


if __name__ == "__main__":
    page = reference()
    if "--check" not in sys.argv:
        PAGE.write_text(page, encoding="utf-8", newline="\n")
    elif not PAGE.is_file() or PAGE.read_text("utf-8") != page:
        sys.exit("docs/cli-reference.md is out of date: run python builders/cli_reference.py")
