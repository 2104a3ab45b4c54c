"""R908 to R911: whether this is the right bay, as square as it should be, and with the rivets that were assumed."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.other_side import MirroredJob
from hatchwright.job.skin import Mandate
from hatchwright.judged import Status, judge_at_most
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import inch, over_text
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Quantity, Source

SAME_BAY_IN = 0.25
"""A bay that differs from the mandate's picture by more is not taken for the same; common practice, no source [in]."""

SQUARE_IN = 1.0 / 16.0
"""Sides or diagonals of a bay may differ by this much; common practice, no source [in]."""

FILED_IN = 1.0 / 32.0
"""A filed opening that differs by more is not of the size asked for; common practice, no source [in]."""

_LAW = Cited(0.0, "", Source("14CFR39", "39.19"), Grade.PUBLISHED)


def _practice(value_in: float, place: str) -> Cited:
    return Cited(value_in, "in", Source("PRACTICE", place), Grade.PRACTICE)


_PICTURE = _practice(SAME_BAY_IN, "bay against the mandate's picture")
_SURVEY = _practice(SQUARE_IN, "four-corner survey")
_FILED = _practice(FILED_IN, "size of a filed opening")
_EXISTING = _practice(0.0, "existing rows")


@rule("R908", Shelf.PLACE, rests_on=(_PICTURE,), reads=("aircraft", "bay", "mandate"))
def right_bay(survey: Survey) -> Iterator[Finding]:
    """R908: the right bay."""
    job, center_in = survey.layout.job, survey.layout.center_in
    practice = _PICTURE
    for axis, shown, at_in, middle_in in (
        ("X", job.mandate.bay_x, [row.x.inch for row in job.bay.rows if row.x], center_in[0]),
        ("Y", job.mandate.bay_y, [row.y.inch for row in job.bay.rows if row.y], center_in[1]),
    ):
        before = max((at for at in at_in if at <= middle_in), default=None)
        behind = min((at for at in at_in if at >= middle_in), default=None)
        if shown is None:
            continue
        if before is None or behind is None:
            yield against(
                "R908",
                Status.UNKNOWN,
                f"the mandate shows a bay of {shown.inch:.2f} along {axis}, and its rows on both sides are not entered",
                value=None,
                limit=shown.inch,
                unit="in",
                cited=practice,
                advice=f"Enter the rivet rows on both sides of the opening along {axis}, as found.",
            )
            continue
        found_in = behind - before
        if isinstance(job, MirroredJob):
            yield against(
                "R908",
                Status.UNKNOWN,
                f"bay along {axis}: {found_in:.2f} on the other side, not yet found on this one",
                value=None,
                limit=shown.inch,
                unit="in",
                cited=practice,
                advice=f"Measure it on the {job.aircraft.side} side; the mandate shows {shown.inch:.2f}.",
            )
            continue
        off_in = abs(found_in - shown.inch)
        same = judge_at_most(off_in, SAME_BAY_IN) is Status.PASS
        yield against(
            "R908",
            Status.PASS if same else Status.STOP,
            f"bay along {axis}: found {found_in:.2f}, the mandate shows {shown.inch:.2f}",
            value=found_in,
            limit=shown.inch,
            unit="in",
            cited=practice,
            formula=f"off by no more than {inch(SAME_BAY_IN)} in",
            values=(Quantity("off", off_in, "in"),),
            advice=""
            if same
            else "Wrong bay, wrong side or wrong serial number? Ask before anything else is done.",
            shortfall=off_in,
        )


@rule("R909", Shelf.SETTLE, rests_on=(_SURVEY,), reads=("bay",), step="measure")
def out_of_square(survey: Survey) -> Iterator[Finding]:
    """R909: bay out of square."""
    bay = survey.layout.job.bay
    corners = bay.corners
    if corners is None:
        if any(row.x for row in bay.rows) and any(row.y for row in bay.rows):
            yield against(
                "R909",
                Status.CAUTION,
                "whether the bay is square was not measured",
                value=None,
                limit=None,
                unit="in",
                cited=_SURVEY,
                advice="Measure opposite sides and both diagonals between its rows, and enter [bay.corners].",
            )
        return
    sides, diagonals = [side.inch for side in corners.sides], [d.inch for d in corners.diagonals]
    pairs = [("opposite sides", sides[:2]), ("other sides", sides[2:]), ("diagonals", diagonals)]
    practice = _SURVEY
    for name, pair in pairs:
        if len(pair) < 2:
            continue
        differ_in = abs(pair[0] - pair[1])
        status = judge_at_most(differ_in, SQUARE_IN, over=Status.CAUTION)
        yield against(
            "R909",
            status,
            f"{name} of the bay differ by {differ_in:.3f} in",
            value=differ_in,
            limit=SQUARE_IN,
            unit="in",
            cited=practice,
            formula=f"difference <= {inch(SQUARE_IN)} in",
            values=(Quantity("one", pair[0], "in"), Quantity("other", pair[1], "in")),
            advice=""
            if status is Status.PASS
            else "The bay is out of square: state the corner that rules, and check the centre from two sides.",
            shortfall=differ_in - SQUARE_IN,
        )


@rule("R910", Shelf.PLACE, rests_on=(_EXISTING,), reads=("bay",))
def existing_as_assumed(survey: Survey) -> Iterator[Finding]:
    """R910: existing rivets as assumed."""
    job, practice = survey.layout.job, _EXISTING
    bay = job.bay
    if isinstance(job, MirroredJob):
        return  # none has been found on this side: R915 asks for the survey
    for index, there in enumerate(bay.existing, start=1):
        for row in bay.rows:
            at, axis = (row.x, 0) if row.x else (row.y, 1)
            if row.diameter is None or at is None:
                continue
            if abs(there.at[axis].inch - at.inch) > row.diameter.inch / 2.0:
                continue
            same = there.diameter.exact_in == row.diameter.exact_in
            yield against(
                "R910",
                Status.PASS if same else Status.CAUTION,
                f"existing fastener {index} on the row of {row.name}: {there.diameter.text}, assumed "
                f"{row.diameter.text}",
                value=there.diameter.inch,
                limit=row.diameter.inch,
                unit="in",
                cited=practice,
                advice=""
                if same
                else "An oversize or a repair is there already. Look at the whole row and its records first.",
                place=(there.at[0].inch, there.at[1].inch),
                shortfall=abs(there.diameter.inch - row.diameter.inch),
            )


@rule("R911", Shelf.PLACE, rests_on=(_LAW, _FILED), reads=("as_made", "mandate", "opening", "wanted"))
def mandated_size(survey: Survey) -> Iterator[Finding]:
    """R911: the mandated size."""
    layout = survey.layout
    mandate, made = layout.job.mandate, layout.job.as_made
    if mandate.kind != "owner" and mandate.opening_x is None and mandate.opening_y is None:
        yield against(
            "R911",
            Status.CAUTION,
            f"the size that the {mandate.kind} asks for was not entered",
            value=None,
            limit=None,
            unit="in",
            cited=_LAW,
            advice="Enter mandate.opening_x and opening_y if it names them, so that the drawing is held against them.",
        )
    for axis, low, high, asked in (("X", 0, 2, mandate.opening_x), ("Y", 1, 3, mandate.opening_y)):
        if asked is None:
            continue
        drawn, filed = layout.wanted.bounds, layout.opening.bounds
        yield _drawn_size(axis, drawn[high] - drawn[low], asked.inch, mandate)
        if made and made.opening:
            yield _filed_size(axis, filed[high] - filed[low], asked.inch, made.uncertainty.inch, mandate)


def _departs(mandate: Mandate) -> Status:
    return Status.STOP if mandate.kind == "directive" else Status.CAUTION


def _drawn_size(axis: str, drawn_in: float, asked_in: float, mandate: Mandate) -> Finding:
    off_in = abs(asked_in - drawn_in)
    same = judge_at_most(off_in, 0.0) is Status.PASS
    return against(
        "R911",
        Status.PASS if same else _departs(mandate),
        f"opening along {axis}: drawn {drawn_in:.3f} in, asked for {asked_in:.3f} in",
        value=drawn_in,
        limit=asked_in,
        unit="in",
        cited=_LAW,
        advice=""
        if same
        else "A departure: it needs an accepted alternative method before the work starts."
        if mandate.kind == "directive"
        else "Not the size asked for: settle it with whoever asked.",
        shortfall=off_in,
    )


def _filed_size(axis: str, filed_in: float, asked_in: float, u_in: float, mandate: Mandate) -> Finding:
    """As filed no size is met to the last thousandth: within practice it is for the holder of the mandate to say."""
    off_in = abs(asked_in - filed_in)
    status = judge_at_most(off_in, FILED_IN, uncertainty=u_in, over=_departs(mandate))
    near = status is Status.PASS
    if near and mandate.kind != "owner":
        status = Status.CAUTION
    return against(
        "R911",
        status,
        f"opening along {axis}: filed {filed_in:.3f} in, asked for {asked_in:.3f} in",
        value=off_in,
        limit=FILED_IN,
        unit="in",
        cited=_FILED,
        formula=f"difference <= {inch(FILED_IN)} in",
        values=(Quantity("filed", filed_in, "in"), Quantity("asked for", asked_in, "in")),
        advice=""
        if status is Status.PASS
        else f"Off by {off_in:.3f} in: see what tolerance the {mandate.kind} leaves, or ask its holder."
        if near
        else f"{over_text(off_in - FILED_IN, u_in)} Not the size asked for: settle it with its holder before going on.",
        shortfall=0.0 if near else off_in - FILED_IN,
        uncertainty=u_in,
    )
