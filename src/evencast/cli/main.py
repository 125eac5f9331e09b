"""The group of commands, and how any failure is said: what, where, what to do."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Any, NoReturn

import click

from evencast import __version__
from evencast.cli import commands
from evencast.errors import DocumentErrors, EvencastError

ERRORS_IN_DOCUMENT = 1
BAD_CALL = 2


class Group(click.Group):
    """Commands in the order a job needs them; failures leave as text or as one JSON object."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order they were added."""
        return list(self.commands)

    def main(self, args: Sequence[str] | None = None, *_: Any, **extra: Any) -> NoReturn:
        """Run one command and leave with the contract's exit code."""
        given = list(sys.argv[1:] if args is None else args)
        extra["standalone_mode"] = False
        extra["prog_name"] = "evencast"
        try:
            status = super().main(given, **extra)
        except EvencastError as error:
            _fail(error, as_json="--json" in given)
        except click.exceptions.NoArgsIsHelpError as error:
            click.echo(error.format_message(), err=True)
            sys.exit(BAD_CALL)
        except click.UsageError as error:
            _fail(_usage_error(error), as_json="--json" in given)
        except (click.Abort, KeyboardInterrupt):
            sys.exit(130)
        except BrokenPipeError:
            sys.stderr.close()  # the reader has gone; nothing is left to say
            sys.exit(0)
        sys.exit(status if isinstance(status, int) else 0)


def _usage_error(error: click.UsageError) -> EvencastError:
    command = error.ctx.command_path if error.ctx else "evencast"
    return EvencastError(
        error.format_message(), where=command, remedy=f"`{command} --help` shows what is accepted."
    )


def _fail(error: EvencastError, *, as_json: bool) -> NoReturn:
    from evencast.cli import plain, text  # only failures and tables need it

    if as_json:
        click.echo(text.error_json(error))
    else:
        click.echo(plain.harmless(text.error(error)), err=True)
    sys.exit(ERRORS_IN_DOCUMENT if isinstance(error, DocumentErrors) else BAD_CALL)


@click.group(
    cls=Group,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog='A light is a name from `evencast lights`, 3200K, 5400K+0.0065, "tungsten -1stop", '
    '"panel at 4300K" or a file. A filter is a name from `evencast filters` or of your kit, '
    "or a file. Every command takes --json.",
)
@click.version_option(__version__, message="evencast %(version)s")
def main() -> None:
    """Bring every light on a set to one colour on camera.

    evencast says what filters do to a real lamp, finds the best stack from a kit, and
    solves a plan of lights at one camera balance.
    """


for each in commands.ALL:
    main.add_command(each)
