"""The command line: parse, call, print."""

from evencast.cli.main import main

__all__ = ["main"]
