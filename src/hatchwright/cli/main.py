"""The command `hatchwright`: one file a command, each calling the workflow."""

from __future__ import annotations

import importlib
import sys

import click

from hatchwright.errors import HatchwrightError, JobError

STOP, REFUSED = 1, 2
"""Exit status: findings to stop for; input refused."""

_COMMANDS = {
    "check": "Judge a job by every rule.",
    "cutters": "Judge the shop's cutters for this cut.",
    "explain": "Show what one rule says.",
    "fasteners": "Say what to order, drill and drive.",
    "new": "Start a job file.",
    "papers": "Write the layout drawing and the work card.",
    "pins": "Plan the temporary fasteners that hold the template.",
    "rules": "List every rule.",
    "run": "Open jobs in the browser.",
    "strength": "Work out margins of the opened and reinforced skin.",
    "sweep": "Compare many variants of a job by their margins.",
    "template": "Write the guide template for the cutter in hand.",
    "toolpath": "Write the machine files that make the template.",
    "trial": "Prove the cutter's offset on scrap.",
}

_HELP = """Plan an opening in an aircraft's aluminium skin, before anything is cut.

A job is one text file: the bay, the opening, doubler, rivets and cover, the cutter in hand, and later what was really
made. Begin with a new one, or with the example:

\b
    hatchwright new wing.toml
    hatchwright check wing.toml
    hatchwright template wing.toml --out shop
    hatchwright papers wing.toml --out shop
    hatchwright run wing.toml

What is printed is a calculation aid and not approved data. The aircraft's own data come first, and licensed judgement
decides.

Exit status: 0 nothing to stop for, 1 findings to stop for, 2 input refused.
"""


class _Commands(click.Group):
    """Loads the file of a command only when that command is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        module = importlib.import_module(f"hatchwright.cli.{cmd_name}")
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(_COMMANDS.items()))


@click.group(
    cls=_Commands,
    help=_HELP,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(package_name="hatchwright", message="%(prog)s %(version)s")
def hatchwright() -> None:
    """The group of all commands."""


def main() -> None:
    """Run the command line; refused input ends with status 2 and a message, never with a traceback."""
    try:
        hatchwright(standalone_mode=False)
    except click.exceptions.Abort:
        sys.exit(REFUSED)
    except click.ClickException as error:
        error.show()
        sys.exit(REFUSED)
    except HatchwrightError as error:
        say_refused(error)
        sys.exit(REFUSED)
    except click.exceptions.Exit as done:
        sys.exit(done.exit_code)


def say_refused(error: HatchwrightError) -> None:
    """Print what was refused, every fault on a line of its own.

    Args:
        error: what the workflow raised.
    """
    if isinstance(error, JobError):
        where = f" in {error.where}" if error.where else ""
        click.echo(f"Refused: {len(error.faults)} fault{'s' * (len(error.faults) > 1)}{where}.", err=True)
        for fault in error.faults:
            click.echo(f"  {fault}", err=True)
    else:
        click.echo(f"Refused: {error}", err=True)
