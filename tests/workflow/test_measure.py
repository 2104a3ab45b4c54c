"""Entering readings while somebody else changes the job: nothing of theirs is lost."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.workflow.measure import HowRead, enter, measured


def test_a_job_that_changed_meanwhile_is_not_written(tmp_path, alder_text):
    path = tmp_path / "alder.toml"
    path.write_text(alder_text, encoding="utf-8")
    holes = lay_out(read_job(alder_text)).holes
    table = "\n".join(f"{hole.number};{hole.place[0]:.3f};{hole.place[1]:.3f}" for hole in holes)
    found = measured(alder_text, table, HowRead(u=".003"), folder=tmp_path)
    path.write_text(alder_text + "\n# noted by another\n", encoding="utf-8")
    with pytest.raises(JobError, match="changed while"):
        enter(path, found)
    assert path.read_text(encoding="utf-8").endswith("# noted by another\n")
