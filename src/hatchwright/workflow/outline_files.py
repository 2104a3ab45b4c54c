"""The files beside a job that its outlines are read from, by name."""

from __future__ import annotations

from hatchwright.job.as_typed import paths_of, raw_data, standing_at


def outline_files(text: str) -> list[str]:
    """The names that a job's text gives of such files, whether they are there or not.

    Raises:
        JobError: the text is not TOML.
    """
    data = raw_data(text)
    named = [standing_at(data, path) for path in paths_of(data) if path.rpartition(".")[2] == "file"]
    return sorted({one for one in named if isinstance(one, str) and one and not set(one) & set("/\\\0")})
