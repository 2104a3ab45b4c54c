"""Every quick answer, from the request of the page to its whole answer: 50 ms or less is the aim.

Processor time of the server, least of several runs, with questions that differ each time so that nothing kept helps;
ratios are to judging the example job in the same run.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlencode

from hatchwright.workflow.examine import examine_file

EXAMPLE = Path(__file__).parents[1] / "examples" / "alder.toml"
AIM_MS = 50.0
PLAIN = "the example job, judged"
_RUNS = 15

OPENING = {"width": "5.5", "radius": ".75"}
SHEETS = {"rivet": "MS20426AD4"}
QUESTIONS = {
    "cg": ("arm", {"empty_weight": "1438", "empty_arm": "85.6", "weight": ".42", "mean_chord": "58"}),
    "drills": ("pilot", {**SHEETS, "sheets": ".032 + .050", "preparation": "dimple over countersink"}),
    "edge": ("distance", {"fastener": "MS20470AD4", "uncertainty": ".005", "hole": ".137"}),
    "hand": ("height", OPENING),
    "land": ("edge", {**SHEETS, "rows": "2"}),
    "radius": ("rise", {"chord": "8", "skin": ".032", "sheet": ".040", "reach": "3"}),
    "ring": ("height", {**OPENING, "ring_width": "8", "ring_height": "7", "ring_radius": "1"}),
    "rivet": ("sheets", {"rivet": "MS20470AD4"}),
    "screw": ("length", {"size": "8-32", "sheets": ".032 + .040", "nut_height": ".20"}),
    "template": (
        "height",
        {**OPENING, "template": "male", "cut_width": ".25", "guide": ".625", "filing_allowance": ".02",
         "end_mill": ".25"},
    ),
}  # fmt: skip
"""Each question by its name: the entry that differs each time, and the others."""


def least_ms(do: Callable[[int], object]) -> float:
    """Processor time of a call, which is told how many came before it [ms]."""
    runs = []
    for number in range(_RUNS):
        begun = time.process_time()
        do(number)
        runs.append(1e3 * (time.process_time() - begun))
    return min(runs[1:])


def quick_times(folder: Path) -> dict[str, float]:
    """Times of each answer and of judging a job [ms]."""
    from django.test import Client

    from hatchwright.web.lettering import load_templates
    from hatchwright.web.server import application
    from hatchwright.web.site import SITE

    _, site = application(folder)
    client = Client(SERVER_NAME="127.0.0.1", **{SITE: site})
    client.get(f"/enter/{site.tokens.issue()}")
    load_templates()

    def asked(name: str, number: int) -> None:
        entry, others = QUESTIONS[name]
        typed = {**others, entry: f".{40 + number:03d}" if entry != "height" else f"4.{100 + number}"}
        answer = client.get(
            f"/quick/{name}/answer?{urlencode({f'job.{one}': text for one, text in typed.items()})}"
        )
        assert b"numbers" in answer.content, name

    times = {PLAIN: least_ms(lambda number: examine_file(EXAMPLE))}
    for name in QUESTIONS:
        times[name] = least_ms(lambda number, name=name: asked(name, number))
    return times


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as place:
        os.environ |= {"XDG_CACHE_HOME": f"{place}/cache", "XDG_STATE_HOME": f"{place}/state"}
        times = quick_times(Path(place))
        for name, took in times.items():
            print(f"  {name}: {took:.1f} ms, ratio {took / times[PLAIN]:.3f}, aim {AIM_MS:.0f} ms")


if __name__ == "__main__":
    main()
