"""The command `hatchwright`: one file a command, each calling the workflow."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from typing import TYPE_CHECKING

import click

from hatchwright.cli.frame import put, words
from hatchwright.cli.stopped import end_as_by_signal, stop_like_ctrl_c
from hatchwright.errors import HatchwrightError, JobError, out_of_memory
from hatchwright.room import refuse_little_room

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

PROGRAM = "hatchwright"

REFUSED = 2
"""Exit status: input refused."""

_LOOKED_THROUGH_AFTER = 10_000
"""Objects made until what is new is looked through for waste: most commands end before. Own choice, no source [-]."""

_COMMANDS = (
    "backup", "balance", "check", "cutters", "due", "explain", "export", "fasteners", "import", "measure",
    "mirror", "new", "papers", "pins", "propose", "pull", "quick", "record", "rescue", "restore", "risk", "rules",
    "run", "scan", "serve", "sign", "strength", "survey", "sweep", "template", "toolpath", "trace", "trial",
    "verify",
)  # fmt: skip
"""Every command; `command.<name>.brief` of the catalog is its line in the list of commands."""


class _Commands(click.Group):
    """Loads the file of a command only when that command is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        place = f"hatchwright.cli.{cmd_name}"
        if place not in sys.modules:  # or what an earlier command left in this process would never be freed
            gc.disable()  # what is loaded stays: looking through it for waste would take a tenth of the start
            importlib.import_module(place)
            gc.freeze()
            gc.set_threshold(_LOOKED_THROUGH_AFTER)
            gc.enable()
        module = sys.modules[place]
        command: click.Command = module.command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        name = args[0]
        if name in _COMMANDS or name.startswith("-") or ctx.resilient_parsing:
            return super().resolve_command(ctx, args)
        from difflib import get_close_matches

        if name.endswith(".toml"):
            told = words("command.job_first", job=name)
        elif guesses := get_close_matches(name.lower(), _COMMANDS, n=1):
            told = words("command.unknown_guess", name=name, guess=guesses[0])
        else:
            told = words("command.unknown", name=name)
        raise click.UsageError(told, ctx)

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """The commands that begin so, without loading any, and the options."""
        from click.shell_completion import CompletionItem

        begun = (name for name in _COMMANDS if name.startswith(incomplete))
        found = [CompletionItem(name, help=words(f"command.{name}.brief")) for name in begun]
        return found + click.Command.shell_complete(self, ctx, incomplete)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section(words("command.commands")):
            formatter.write_dl([(name, words(f"command.{name}.brief")) for name in _COMMANDS])

    def get_help(self, ctx: click.Context) -> str:
        self.help = words("command.help")
        return super().get_help(ctx)


@click.group(
    cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(package_name="hatchwright", message="%(prog)s %(version)s")
def hatchwright() -> None:
    """The group of all commands."""


def main() -> None:
    """Run the command line; refused input ends with status 2 and a message, never with a traceback."""
    stop_like_ctrl_c()
    # No command has large matrices: threads of their own cost half the start, and then only wait for each other.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        refuse_little_room()
        hatchwright(prog_name=PROGRAM, standalone_mode=False)
        return
    except click.exceptions.Exit as done:
        sys.exit(done.exit_code)
    except click.exceptions.Abort as ended:
        if isinstance(ended.__cause__, KeyboardInterrupt):
            end_as_by_signal(ended.__cause__)
    except click.ClickException as error:
        error.show()
    except JobError as error:
        id = "command.refused" if error.where else "command.refused_nowhere"
        put(id, n=len(error.faults), where=error.where, to_err=True)
        for fault in error.faults:
            click.echo(f"  {fault}", err=True)
    except HatchwrightError as error:
        put("command.refused_because", why=str(error), to_err=True)
    except Exception as error:
        if (told := out_of_memory(error)) is None:
            raise
        put("command.refused_because", why=str(told), to_err=True)
    sys.exit(REFUSED)
