"""Time and memory of measuring a flat scan: letter paper at 600 dpi, a part of 5 by 6 in with an opening and 20 holes.

1. Measuring in processor time, over decoding the same file alone by the library that decodes it. Asked: 3 s.
2. The most memory that a process of its own takes for it, all that it loads included. Asked: 600 MB.

Takes about a minute, most of it for rendering the scan. Run: python benchmarks/bench_scan.py
"""

# ruff: noqa: E402 - one thread must be asked for before NumPy is imported
from __future__ import annotations

import os

for variable in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[variable] = "1"

import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
DPI, PAPER_IN = 600, (8.5, 11.0)
MOST_S, MOST_MB = 3.0, 600.0


def rendered() -> tuple[bytes, tuple[float, float]]:
    """A scan of the whole bed, and the bars as a caliper gives them [in]."""
    import cv2
    import numpy as np

    sys.path.insert(0, str(ROOT))
    from tests.scans.judged import case_of
    from tests.scans.pictures import picture

    case = case_of("opening", 5, dpi=DPI, jpeg=None)
    levels = cv2.imdecode(np.frombuffer(case.content, np.uint8), cv2.IMREAD_GRAYSCALE)
    bed = np.full((round(PAPER_IN[1] * DPI), round(PAPER_IN[0] * DPI)), 225.0)
    top, left = ((whole - part) // 2 for whole, part in zip(bed.shape, levels.shape, strict=True))
    bed[top : top + levels.shape[0], left : left + levels.shape[1]] = levels
    bed += np.random.default_rng(1).normal(0.0, 1.0, bed.shape)
    return picture(bed, DPI), case.bars


def measured(path: Path, bars: tuple[float, float]) -> None:
    """Measure one file in this process, and print what that took: for the process that this is a part of."""
    content = path.read_bytes()
    start = time.process_time()
    from hatchwright.inspection.scan.scan import Asked, measure_scan

    scan = measure_scan(content, Asked(bars_in=bars))
    took_s = time.process_time() - start
    # What the system counts for a process begins with what its parent had; the mark of its own room does not.
    told = re.search(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text())
    print(took_s, int(told[1]) / 1000.0 if told else float("nan"), len(scan.holes))


def main() -> int:
    """Print both figures; 0 where they are what was asked."""
    import cv2
    import numpy as np

    cv2.setNumThreads(1)
    content, bars = rendered()
    start = time.process_time()
    cv2.imdecode(np.frombuffer(content, np.uint8), cv2.IMREAD_UNCHANGED)
    decoding_s = time.process_time() - start
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "scan.png"
        path.write_bytes(content)
        run = subprocess.run(
            [sys.executable, __file__, str(path), *map(str, bars)], capture_output=True, text=True, check=True
        )
    took_s, memory_mb, holes = map(float, run.stdout.split())
    print(
        f"{holes:.0f} holes; {took_s:.2f} s of processor time, {took_s / decoding_s:.1f} times decoding alone"
    )
    print(f"{memory_mb:.0f} MB at most")
    return int(took_s > MOST_S or memory_mb > MOST_MB)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        measured(Path(sys.argv[1]), (float(sys.argv[2]), float(sys.argv[3])))
    else:
        sys.exit(main())
