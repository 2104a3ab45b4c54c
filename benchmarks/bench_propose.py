"""Work of a proposal, as a ratio to one judgement of the same job by every rule, both counted in function calls.

Calls are counted by the interpreter's own profiler: they do not depend on the machine nor on what else runs on it.
Seconds of processor time are printed for information.
"""

from __future__ import annotations

import cProfile
import pstats
import time
from collections.abc import Callable

from studies.random_faults import bare

from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.search.answers import answers_of
from hatchwright.search.proposal.propose import propose

_SHELF = '\n[wish]\nrivets = ["MS20470AD4", "MS20470AD5"]\n'
_BOXES = 45


def main() -> None:
    """Print one line a job."""
    for name, text in (
        ("alder", bare("alder") + _SHELF),
        ("alder among 45 boxes", _among(bare("alder")) + _SHELF + 'shift = ".5"\n'),
        ("elder", bare("elder")),
        ("birch, none fits", bare("birch")),
    ):
        layout = lay_out(read_job(text))
        answers_of(layout)
        propose(layout)
        once, whole = (
            _calls(lambda layout=layout: answers_of(layout)),
            _calls(lambda layout=layout: propose(layout)),
        )
        print(f"{name:22s} {whole / once:6.1f} judgements   {_seconds(layout):5.2f} s of processor time")


def _calls(work: Callable[[], object]) -> int:
    profile = cProfile.Profile()
    profile.runcall(work)
    return int(pstats.Stats(profile).total_calls)  # type: ignore[attr-defined]


def _seconds(layout: Layout) -> float:
    begun = time.process_time()
    propose(layout)
    return time.process_time() - begun


def _among(text: str) -> str:
    """Boxes against the skin all round a ring of alder's, which lies .03 over one of them."""
    boxes = [(8.895, 4.4)]
    boxes += [(0.8 + 0.45 * at, y) for at in range(_BOXES // 2) for y in (0.75, 8.1)]
    listed = "".join(
        f'\n[[bay.keep_outs]]\nname = "box {at}"\nx_from = "{x:.3f}"\nx_to = "{x + 0.1:.3f}"\n'
        f'y_from = "{y:.3f}"\ny_to = "{y + 0.1:.3f}"\n'
        for at, (x, y) in enumerate(boxes)
    )
    return text.replace("\n[opening]\n", listed + "\n[opening]\n", 1)


if __name__ == "__main__":
    main()
