"""What worker processes inherit."""

from __future__ import annotations

import os

import pytest

from hatchwright.search.worker_environment import set_worker_environment


def test_what_somebody_has_set_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "environ", {"OPENBLAS_NUM_THREADS": "2"})
    set_worker_environment()
    assert os.environ["OPENBLAS_NUM_THREADS"] == "2"
    assert os.environ["OMP_NUM_THREADS"] == "1"
    assert int(os.environ["MALLOC_TRIM_THRESHOLD_"]) >= 1 << 30
