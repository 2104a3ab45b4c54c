"""R818, R819: the strap under the nutplates, its edges and what it lies on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt
from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.judged import Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.cover import screwed_cover
from hatchwright.rules.cover_nuts import Ears, ear_edge_least, nutplate_ears
from hatchwright.rules.edge_distance import WHOLE
from hatchwright.rules.heads_and_edges import HEAD_RATIO
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import some_numbered
from hatchwright.said import Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.nutplates import NUTPLATE_EARS
from hatchwright.tables.screws import SCREW_SIZES
from hatchwright.workings import Working

Points = npt.NDArray[np.float64]


@rule("R818", Shelf.SETTLE, reads=("cover", "holes", "parts"), step="nutplates")
@judged_by(
    WHOLE,
    NUTPLATE_EARS,
    SCREW_SIZES,
    limits=("cover_screw_edge_distance", "edge_min_countersunk", "edge_min_single_row_protruding"),
)
@mended_by(Change.NUTPLATE_STRAP)
def strap_edges(survey: Survey) -> Iterator[Finding]:
    """R818: screws and nutplate rivets to the long edges of a strap that lies with its middle on the screw line; its
    ends are not judged."""
    found = screwed_cover(survey)
    strap = found.screws.strap if found else None
    if found is None or strap is None:
        return
    least = survey.limit("cover_screw_edge_distance")
    if strap.width is None:
        enter = ("cover.screws.strap.width",)
        yield stated(Status.UNKNOWN, said("R818.no_width"), least, said("R818.enter_width"), enter=enter)
        return
    half_in, width, d_in = strap.width.inch / 2.0, inch(strap.width.inch), found.holes[0].diameter_in
    yield _to_edge(half_in, d_in, least, Status.STOP, said("R818.screws", width=width))
    ears = nutplate_ears(survey)
    if isinstance(ears, Ears):
        across_in = 0.0 if found.screws.nut_lugs == "along" else max(map(abs, ears.offsets_in))
        least, d_in, subject = (
            ear_edge_least(survey, ears),
            ears.rivet.diameter_in,
            said("R818.ears", width=width),
        )
        yield _to_edge(half_in - across_in, d_in, least, ears.no_metal, subject, ears.working)


def _to_edge(
    edge_in: float, d_in: float, least: Cited, no_metal: Status, subject: Said, *more: Working
) -> Finding:
    """An edge distance [in]: short of the rule it cautions, and a hole that breaks out is told as such."""
    e = Measure("e", edge_in, per=("D", d_in, "in"))
    asked = Judgement(e, (bound(least, d_in, "D"),), fails_as=Status.CAUTION, more=more)
    metal = replace(asked, bounds=(bound(WHOLE, d_in, "D"),), fails_as=no_metal)
    return held(asked if metal.status is Status.PASS else metal, subject, ASK)


@rule("R819", Shelf.SETTLE, reads=("cover", "holes", "parts"), marks_holes=True, step="nutplates")
@judged_by(HEAD_RATIO)
def heads_under_strap(survey: Survey) -> Iterator[Finding]:
    """R819: a strap lies flat on its sheet where no new rivet ends under it, by its head outside."""
    found = screwed_cover(survey)
    strap = found.screws.strap if found else None
    if found is None or strap is None or strap.width is None:
        return
    sheet = found.holes[0].stack[-1]
    rivets = tuple(hole for hole in survey.layout.holes_of("rivet") if sheet in hole.stack)
    if not rivets:
        return
    gap_in = _off_line(points_of(rivets), points_of(found.holes)) - strap.width.inch / 2.0
    head_in = HEAD_RATIO.value * np.array([hole.diameter_in for hole in rivets])
    clear = Measure(
        "gap - head / 2",
        gap_in - head_in / 2.0,
        np.array([hole.uncertainty_in for hole in rivets]),
        with_=lengths(gap=gap_in, head=head_in),
    )
    judged = Judgement(clear, (Bound(0.0, HEAD_RATIO.source, HEAD_RATIO.grade),), fails_as=Status.UNKNOWN)
    under = tuple(rivets[k] for k in np.flatnonzero(judged.ranks()).tolist())
    i = judged.worst()
    subject = said("R819.on_heads", rivets=some_numbered(*under)) if under else said("R819.clear")
    numbers = tuple(hole.number for hole in under)
    yield held(judged.at(i), subject, ASK, holes=numbers, place=rivets[i].place)


def _off_line(places: Points, screws: Points) -> npt.NDArray[np.float64]:
    """How far places (n, 2) lie from the line from screw to screw (k, 2) and back to the first, shape (n,) [in]."""
    run = np.roll(screws, -1, axis=0) - screws
    away = places[:, None] - screws
    share = np.clip((away * run).sum(axis=2) / np.maximum((run**2).sum(axis=1), 1e-12), 0.0, 1.0)
    off: npt.NDArray[np.float64] = np.hypot(*np.moveaxis(away - share[..., None] * run, 2, 0)).min(axis=1)
    return off
