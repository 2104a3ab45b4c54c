"""Write the other side of a job as a job of its own."""

from __future__ import annotations

import os
from pathlib import Path

from hatchwright.errors import JobError
from hatchwright.job.another_job import on_the_other_side
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.text_file import save_text


def mirror(source: Path, target: Path) -> None:
    """Write the job of the other side; what must be asked again there is left out.

    Raises:
        JobError: the job is not sound or has no other side, the target exists or cannot be written, or an outline
            that the job reads from another file does not lie beside it.
    """
    text = load_job_text(source)
    read_job(text, folder=source.parent, name=source.name)
    mirrored = on_the_other_side(text)
    read_job(mirrored, folder=target.parent, name=target.name)
    if os.path.lexists(target):  # also where a link leads nowhere
        raise JobError.about("file", "error.file_there", str(target))
    save_text(target, mirrored)
