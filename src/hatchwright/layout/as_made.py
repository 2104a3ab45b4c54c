"""What was really made, put in place of what was drawn: measured places and sizes, and the rivets that were fitted."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from hatchwright.errors import JobError
from hatchwright.job.as_made import NO_RIVET
from hatchwright.job.job import Job
from hatchwright.layout.layout import Hole
from hatchwright.layout.listed import listed
from hatchwright.said import Listed
from hatchwright.tables.rivet_part import parse_rivet


def as_made(job: Job, holes: Iterable[Hole], center_in: tuple[float, float]) -> tuple[Hole, ...]:
    """The holes in the order of their numbers, as they were measured and filled where the job says so.

    Args:
        center_in: center of the opening, about which readings in polar form are taken that name no center [in].
    Raises:
        JobError: a hole was measured, or a rivet fitted, that the job does not know.
    """
    found = _as_fitted(job, _as_measured(job, holes, center_in))
    _refuse_cracks(job, found)
    return found


def _refuse_cracks(job: Job, holes: tuple[Hole, ...]) -> None:
    known = {hole.number for hole in holes}
    for index, look in enumerate(job.looks):
        if unknown := sorted({crack.number for crack in look.cracks} - known):
            told, numbers = Listed(tuple(map(str, unknown)), ","), _numbers(list(holes))
            raise JobError.about(f"looks.{index}.cracks", "error.no_hole", holes=told, numbers=numbers)


def _as_measured(job: Job, holes: Iterable[Hole], center_in: tuple[float, float]) -> tuple[Hole, ...]:
    """Put measured places and sizes where there are any."""
    ordered = sorted(holes, key=lambda hole: hole.number)
    if job.as_made is None:
        return tuple(ordered)
    made, known = job.as_made, {hole.number for hole in ordered}
    numbers = {"holes": [hole.number for hole in made.holes], "sizes": [hole.number for hole in made.sizes]}
    numbers |= {f"polar.{k}.holes": [hole.number for hole in one.holes] for k, one in enumerate(made.polar)}
    numbers["countersinks"] = [one.number for one in made.countersinks]
    numbers["cracked_dimples"] = [one.number for one in made.cracked_dimples]
    for field, measured in numbers.items():
        if unknown := sorted(set(measured) - known):
            told, known_as = Listed(tuple(map(str, unknown)), ","), _numbers(ordered)
            raise JobError.about(f"as_made.{field}", "error.no_hole", holes=told, numbers=known_as)
    places_in = made.places_in(center_in)
    placed = {hole.number: hole for hole in made.placed_holes}
    sizes = {hole.number: (hole.diameter, made.u_in(hole)) for hole in made.sized_holes}
    found = []
    for hole in ordered:
        if place := places_in.get(hole.number):
            (x_in, y_in), drawn_in, reading = place, hole.place, placed[hole.number]
            hole = replace(
                hole,
                x_in=x_in,
                y_in=y_in,
                is_made=True,
                uncertainty_in=made.u_in(reading),
                is_own_u=reading.uncertainty is not None,
                drawn_in=drawn_in,
            )
        if size := sizes.get(hole.number):
            diameter, u_in = size
            hole = replace(hole, hole_in=diameter.inch, size_uncertainty_in=u_in)
        found.append(hole)
    return tuple(found)


def _as_fitted(job: Job, holes: tuple[Hole, ...]) -> tuple[Hole, ...]:
    """Put the rivets that were really fitted, or none, where the job says so of a rivet's hole."""
    fitted = {
        number: one.rivet for one in (job.as_made.fitted if job.as_made else ()) for number in one.holes
    }
    rivets = [hole for hole in holes if hole.kind == "rivet"]
    unknown = sorted(set(fitted) - {hole.number for hole in rivets})
    headed = {head.number for head in (job.as_made.heads if job.as_made else ())}
    strange = sorted(headed - {hole.number for hole in rivets})
    for field, numbers in (("fitted", unknown), ("heads", strange)):
        if numbers:
            told = Listed(tuple(map(str, numbers)), ",")
            raise JobError.about(f"as_made.{field}", "error.no_hole", holes=told, numbers=_numbers(rivets))
    return tuple(_fitted(hole, fitted[hole.number]) if hole.number in fitted else hole for hole in holes)


def _fitted(hole: Hole, rivet: str) -> Hole:
    if rivet == NO_RIVET:
        return replace(hole, is_fitted=False)
    part = listed(parse_rivet, rivet)
    return replace(hole, fastener=rivet, nominal_in=part.diameter_in if part else None)


def _numbers(holes: list[Hole]) -> str:
    """The holes of each row, as a person would call them."""
    rows: dict[str, list[int]] = {}
    for hole in holes:
        rows.setdefault(hole.row, []).append(hole.number)
    return "; ".join(
        f"{row} {numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else f"{row} {numbers[0]}"
        for row, numbers in rows.items()
    )
