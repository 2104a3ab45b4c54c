"""The stop box: the one place where every paper that goes to the aircraft says what must be settled first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from hatchwright.drawings.block import Block, paragraph
from hatchwright.drawings.ink import Line
from hatchwright.drawings.layers import Layer, Style
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.words.tell import tell

_PAD_IN = 0.08


def stop_words(findings: Iterable[Finding], *, see: str = "THE WORK CARD") -> str:
    """What stops the work, by rule and how often.

    Args:
        findings: the worst first.
        see: where each finding is told in full.
    Returns:
        str: such as ``DO NOT CUT, DRILL OR RIVET. 3 STOP: R101 (2), R601. SEE THE WORK CARD.``, "" when nothing stops.
    """
    judged = tuple(findings)
    said = [_counted(judged, status) for status in (Status.STOP, Status.UNKNOWN)]
    if not any(said):
        return ""
    return " ".join(("DO NOT CUT, DRILL OR RIVET.", *filter(None, said), f"SEE {see}."))


def _counted(findings: Iterable[Finding], status: Status) -> str:
    """How many findings have one answer, and the rules that they are of."""
    times = Counter(finding.code for finding in findings if finding.status is status)
    codes = ", ".join(f"{code} ({count})" if count > 1 else code for code, count in times.items())
    return f"{times.total()} {tell(status)}: {codes}." if codes else ""


def stop_block(words: str, *, width_in: float, height_in: float) -> Block:
    """The words in a thick frame.

    Args:
        words: as from `stop_words`.
        height_in: height of a capital [in].
    Returns:
        Block: bold, broken to the width; of no height when there are no words.
    """
    if not words:
        return Block((), width_in, 0.0)
    text = paragraph([words], width_in=width_in - 2.0 * _PAD_IN, height_in=height_in, bold=True)
    foot = -(text.height_in + 2.0 * _PAD_IN - 0.7 * height_in)
    corners = ((0.0, 0.0), (width_in, 0.0), (width_in, foot), (0.0, foot), (0.0, 0.0))
    frame = Line(corners, Layer.TEXT, Style.FINISHED, "stop-box")
    return Block((frame, *text.at(_PAD_IN, -_PAD_IN)), width_in, -foot)
