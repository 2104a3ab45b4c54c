"""What worker processes inherit from the program that starts them."""

from __future__ import annotations

import os

_KEPT_BYTES = 1 << 30

_INHERITED = {
    # one thread a process: several would only get in each other's way
    "OPENBLAS_NUM_THREADS": "1",
    "OMP_NUM_THREADS": "1",
    # memory of one array is kept for the next: handing it back and asking anew costs a sixth of an analysis, and
    # processes wait for each other while the system serves them
    "MALLOC_MMAP_THRESHOLD_": str(_KEPT_BYTES),
    "MALLOC_TRIM_THRESHOLD_": str(_KEPT_BYTES),
}


def set_worker_environment() -> None:
    """Set it, leaving alone what somebody has set already; for processes that are started afterwards."""
    for name, value in _INHERITED.items():
        os.environ.setdefault(name, value)
