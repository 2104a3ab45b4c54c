"""`hatchwright verify`: whether the records of a folder are what was said and signed."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from hatchwright.cli.frame import PATH, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.words.tell import tell


@click.command(name="verify", help=words("command.verify.help"))
@click.argument("folder", type=PATH, default=Path())
@click.option("--head", default="", metavar="HEAD", help=words("command.verify.head"))
@click.option("--mend", "mends", is_flag=True, help=words("command.verify.mend"))
@click.option("--json", "as_json", is_flag=True, help=words("command.verify.json"))
def command(folder: Path, head: str, mends: bool, as_json: bool) -> None:
    """Read every entry of the records of FOLDER and all that they speak of."""
    from hatchwright.workflow.verify import after_said, faults_said, head_said, verify_folder, verify_values

    found = verify_folder(folder, head=head, mends=mends)
    if as_json:
        put_json(verify_values(found))
    else:
        for told in head_said(found):
            put_text(tell(told))
        for told in faults_said(found):
            put_text(tell(told), indent="  ")
        for told in after_said(found):
            put_text(tell(told))
    sys.exit(0 if found.is_sound else 1)
