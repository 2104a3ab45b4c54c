"""The options of every command that writes papers: where to, on what paper, and for which printer."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

import click

from hatchwright.cli.frame import PATH, overwrite_option, words
from hatchwright.workflow.printing import PAPERS, paper_of

Command = Callable[..., Any]

_BARS = ("--bar-short-side", "--bar-long-side")
_BAR_OPTIONS = (
    click.option(_BARS[1], "bar_long", default="", help=words("command.option.bar_long")),
    click.option(_BARS[0], "bar_short", default="", help=words("command.option.bar_short")),
)


def paper_option(*papers: str) -> Command:
    """The option of a paper size, the first where none is named."""
    choice = click.Choice(papers)
    return click.option(
        "--paper", type=choice, default=papers[0], show_default=True, help=words("command.option.paper")
    )


def paper_options(
    *, out: str, needs_out: bool = False, is_true_size: bool = True
) -> Callable[[Command], Command]:
    """Give a command the options of papers, and with them the arguments `out`, `paper` (of `paper_of`) and `overwrite`.

    Args:
        out: what the help says of the folder.
        needs_out: whether the command is nothing without a folder.
        is_true_size: whether it writes papers of true size, which a printer that is off would spoil.
    """

    def decorated(command: Command) -> Command:
        @wraps(command)
        def with_paper(*, paper: str, bar_short: str = "", bar_long: str = "", **rest: object) -> None:
            printed_on = paper_of(paper, bar_short=bar_short, bar_long=bar_long, bars=_BARS)
            command(paper=printed_on, **rest)

        folder = click.option("--out", type=PATH, required=needs_out, help=out)
        given = with_paper
        bars = _BAR_OPTIONS if is_true_size else ()
        for option in (overwrite_option, *bars, paper_option(*PAPERS), folder):
            given = option(given)
        return given

    return decorated
