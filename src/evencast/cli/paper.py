"""What leaves the program on paper."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date as calendar
from pathlib import Path
from typing import Any

import click

from evencast.cli.options import Command, json_option, show

PAPERS = ("a4", "letter")


def printing_options(command: Command) -> Command:
    """What every printed document takes: --date, --author, --paper, --replace."""
    for option in (
        click.option(
            "--replace", is_flag=True, help="Write over files of the same names.", default=False
        ),
        click.option(
            "--paper",
            type=click.Choice(PAPERS),
            default="a4",
            show_default=True,
            help="A4, with A5 cards; or US letter, with half-letter cards.",
        ),
        click.option("--author", default="", metavar="NAME", help="In whose name it goes out."),
        click.option(
            "--date",
            default=lambda: calendar.today().isoformat(),
            show_default="today",
            metavar="DATE",
            help="Year-month-day, printed on every page.",
        ),
    ):
        command = option(command)
    return command


@click.command()
@click.argument("plan", type=click.Path(path_type=Path))
@click.option(
    "--only",
    metavar="NAMES",
    default="",
    help="Which of cards, choice, panes, colourist, shopping, labels, pocket, parted by commas."
    "  [default: all]",
)
@click.option("--setup", metavar="NAME", help="One set-up of PLAN.  [default: every one]")
@click.option(
    "--to",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path("hand-outs"),
    show_default=True,
    metavar="DIR",
    help="The folder they are written to.",
)
@click.option(
    "--address",
    default="",
    metavar="URL",
    help="Where phones will find the pocket page: the cards' QR codes lead there.",
)
@click.option(
    "--labels",
    default="",
    metavar="SHEET",
    help='The sheet of adhesive labels: "63.5 x 38.1 mm, 3 x 7, left 7.2, top 15.1, gap 2.5 x 0".'
    "  [default: this one, or 2.625 x 1 in, 3 x 10, on letter]",
)
@click.option(
    "--label-start",
    type=int,
    default=1,
    show_default=True,
    metavar="N",
    help="The first label left on a sheet that is partly used, counted along the rows.",
)
@printing_options
@json_option
def handout(plan: Path, only: str, as_json: bool, **options: Any) -> None:
    """Write the documents of PLAN: lamp cards, the choice, panes, colourist, shopping, labels.

    Example:  evencast handout bindery/plan.toml --only cards,choice --to paper
    """
    from dataclasses import fields

    from evencast.actions.handouts.handout import handout as act
    from evencast.actions.handouts.job import Wishes
    from evencast.cli import paper_text
    from evencast.cli.progress import progress

    wishes = Wishes(**{each.name: options.pop(each.name) for each in fields(Wishes)})
    names = [each.strip() for each in only.split(",") if each.strip()]
    with progress("Hand-outs") as told:
        answer = act(plan, only=names, wishes=wishes, progress=told, **options)
    show(answer, paper_text.handout, as_json=as_json)


@click.command()
@click.argument("kit", type=click.Path(path_type=Path))
@click.option(
    "--as",
    "kinds",
    multiple=True,
    metavar="KIND",
    help="reference, comparison or lesson; several parted by commas.  [default: all]",
)
@click.option(
    "--balances",
    default="3200K,5600K",
    show_default=True,
    metavar="K,K",
    help="Two balances of the camera.",
)
@click.option(
    "--light",
    metavar="LIGHT",
    help="One light for every filter.  [default: the lamp each is meant for]",
)
@click.option(
    "--camera",
    default="eye",
    show_default=True,
    metavar="CAMERA",
    help='Whose sight: eye, "camera A", "camera B", or a file of sensitivities.',
)
@click.option(
    "--form",
    "forms",
    multiple=True,
    metavar="FORM",
    help="Of the comparison sheet: pdf, png or svg; several parted by commas.  [default: pdf]",
)
@click.option("--only", multiple=True, metavar="FILTER", help="A filter; as often as needed.")
@click.option(
    "--intro",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Your introduction: text, with empty lines between paragraphs.",
)
@click.option(
    "--to",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path("reference"),
    show_default=True,
    metavar="DIR",
    help="The folder they are written to.",
)
@printing_options
@json_option
def card(kit: Path, kinds: Sequence[str], forms: Sequence[str], as_json: bool, **rest: Any) -> None:
    """Write the reference of KIT: what every filter does, with pictures and what to do.

    With it come a sheet that compares bare and filtered light at two balances, and a lesson for
    every filter. A test frame of your own stands beside the computed pictures where the kit names
    one.

    Example:  evencast card bindery/kit.toml --author "Ada Moss" --as reference
    """
    from evencast.actions.card.card import Wanted
    from evencast.actions.card.card import card as act
    from evencast.actions.handouts.job import Wishes
    from evencast.cli import paper_text
    from evencast.cli.progress import progress

    wishes = Wishes(**{name: rest.pop(name) for name in ("date", "author", "paper")})
    texts = {name: rest.pop(name) for name in ("balances", "light", "camera", "only", "intro")}
    wanted = Wanted(kinds=_parted(kinds), forms=_parted(forms), **texts)
    with progress("Reference") as told:
        answer = act(kit, wanted=wanted, wishes=wishes, progress=told, **rest)
    show(answer, paper_text.card, as_json=as_json)


def _parted(texts: Sequence[str]) -> list[str]:
    """Names given one by one or with commas between."""
    return [each.strip() for text in texts for each in text.split(",") if each.strip()]


ALL = (handout, card)
