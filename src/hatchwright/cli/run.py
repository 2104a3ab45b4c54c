"""`hatchwright run`: open jobs in the browser."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import click

from hatchwright.cli.frame import shop_option, words


@click.command(name="run", help=words("command.run.help"))
@click.argument("job", type=click.Path(path_type=Path, exists=True), required=False)
@click.option("--port", type=click.IntRange(0, 65535), help=words("command.run.port"))
@click.option("--no-browser", is_flag=True, help=words("command.run.no_browser"))
@shop_option
def command(job: Path | None, port: int | None, no_browser: bool, shop: Path | None) -> None:
    """Open the jobs of a folder in the browser of this machine; with JOB, that one."""
    folder = job.parent if job and job.is_file() else job or Path.cwd()
    call = [sys.executable, "-m", "hatchwright.web", "--folder", str(folder), "--until-input-closes"]
    if not no_browser:
        call.append("--open")
    if port is not None:
        call += ["--port", str(port)]
    if job and job.is_file():
        call += ["--job", job.name]
    if shop:
        call += ["--shop", str(shop)]
    with subprocess.Popen(
        call, stdin=subprocess.PIPE
    ) as server:  # the pipe closes by whatever signal this ends
        if sys.stdin and server.stdin:
            if hasattr(signal, "SIGTTIN"):
                signal.signal(signal.SIGTTIN, signal.SIG_IGN)  # or a read in the background would halt this
            threading.Thread(target=_hand_on, args=(server.stdin.fileno(),), daemon=True).start()
        try:
            sys.exit(server.wait())
        except KeyboardInterrupt:
            sys.exit(0)


_LOOKS_EVERY_S = 1.0


def _hand_on(pipe: int) -> None:
    """Hand on what is typed, until there is nothing to read or nobody to hand it to."""
    while True:
        try:
            typed = os.read(sys.stdin.fileno(), 1024)
        except OSError:  # in the background of its terminal nothing can be read until it comes to the front
            time.sleep(_LOOKS_EVERY_S)
            continue
        if not typed and sys.stdin.isatty():  # Ctrl-D ends nothing at a terminal
            time.sleep(_LOOKS_EVERY_S)
            continue
        try:
            if not typed or not os.write(pipe, typed):
                return
        except OSError:
            return
