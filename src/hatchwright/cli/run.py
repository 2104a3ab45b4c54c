"""`hatchwright run`: open jobs in the browser."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import click

from hatchwright.cli.frame import shop_option, words


@click.command(name="run", help=words("command.run.help"))
@click.argument("job", type=click.Path(path_type=Path, exists=True), required=False)
@click.option("--port", type=click.IntRange(0, 65535), default=0, help=words("command.run.port"))
@shop_option
def command(job: Path | None, port: int, shop: Path | None) -> None:
    """Open the jobs of a folder in the browser of this machine; with JOB, that one."""
    folder = job.parent if job and job.is_file() else job or Path.cwd()
    call = [sys.executable, "-m", "hatchwright.web", "--folder", str(folder), "--port", str(port)]
    call.append("--until-input-closes")
    if job and job.is_file():
        call += ["--job", job.name]
    if shop:
        call += ["--shop", str(shop)]
    with subprocess.Popen(
        call, stdin=subprocess.PIPE
    ) as server:  # the pipe closes by whatever signal this ends
        try:
            sys.exit(server.wait())
        except KeyboardInterrupt:
            sys.exit(0)
