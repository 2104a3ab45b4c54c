"""A bar on the terminal for what takes long; nothing where the standard error is read by a program."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from hatchwright.progress import Progress, unheard
from hatchwright.said import Said
from hatchwright.words.tell import tell


@contextmanager
def progress_bar() -> Iterator[Progress]:
    """Show how far work is while it goes on; the bar is taken away when it ends, however it ends."""
    if not sys.stderr.isatty():
        yield unheard
        return
    from rich.console import Console
    from rich.progress import BarColumn, TaskProgressColumn, TextColumn
    from rich.progress import Progress as Bar

    console = Console(stderr=True)
    columns = BarColumn(), TaskProgressColumn(), TextColumn("{task.description}", markup=False)
    with Bar(*columns, console=console, transient=True) as shown:
        task = shown.add_task("", total=1.0)

        def progress(share: float, doing: Said) -> None:
            shown.update(task, completed=share, description=tell(doing))

        yield progress
