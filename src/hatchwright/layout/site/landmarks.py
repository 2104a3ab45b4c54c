"""The landmarks of a survey as lines with their uncertainty, one for each name."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.job.site import Site, SiteFlange, SiteRow
from hatchwright.metrology.propagated import Propagated, as_read, combined


class Reading(Struct, frozen=True):
    """One landmark as it was read once.

    Args:
        index: its line in the list of rows, or of flanges.
        first: from the origin row, at its first station [in].
        second: the same at its second station, None without.
        stations_in: where along it both were read, None without [in].
    """

    name: str
    index: int
    entered: SiteRow | SiteFlange
    first: Propagated
    second: Propagated | None
    stations_in: tuple[float, float] | None

    @property
    def axis(self) -> int:
        """The axis that it crosses, 0 for X, 1 for Y."""
        return self.entered.axis

    @property
    def bound(self) -> str:
        """Of a flange which of its bounds the edge is, "" of a row."""
        return self.entered.bound if isinstance(self.entered, SiteFlange) else ""

    @property
    def field(self) -> str:
        """Where it stands in the job file."""
        return f"site.{'flanges' if self.bound else 'rows'}.{self.index}"

    def at(self, along_in: float | None) -> Propagated:
        """Where it crosses its axis at a station, in a line through both readings; the first without a second."""
        if self.second is None or self.stations_in is None or along_in is None:
            return self.first
        begin, end = self.stations_in
        share = (along_in - begin) / (end - begin)
        value = self.first.value + share * (self.second.value - self.first.value)
        return combined(value, [(1.0 - share, self.first), (share, self.second)])

    @property
    def into_bay(self) -> Propagated:
        """Of a flange the reading that reaches farthest into the bay; of a row the middle of both."""
        if self.second is None:
            return self.first
        if not self.bound:
            middle = (self.first.value + self.second.value) / 2.0
            return combined(middle, [(0.5, self.first), (0.5, self.second)])
        pick = max if self.bound.endswith("to") else min
        return pick((self.first, self.second), key=lambda one: one.value)


class Landmark(Struct, frozen=True):
    """All readings of one landmark; two where it was told twice."""

    name: str
    readings: tuple[Reading, ...]

    @property
    def axis(self) -> int:
        """The axis that it crosses, 0 for X, 1 for Y."""
        return self.readings[0].axis

    @property
    def bound(self) -> str:
        """Of a flange which of its bounds the edge is, "" of a row."""
        return self.readings[0].bound

    def at(self, along_in: float | None = None) -> Propagated:
        """Where it crosses its axis, the mean where it was told twice."""
        return _mean([one.at(along_in) for one in self.readings])

    @property
    def into_bay(self) -> Propagated:
        """As `Reading.into_bay`."""
        return _mean([one.into_bay for one in self.readings])


def landmarks(site: Site) -> tuple[Landmark, ...]:
    """Rows, then flange edges, each once: lines of one name and one axis are one landmark."""
    found: dict[tuple[str, int, str], list[Reading]] = {}
    for line, index, of in _lines(site):
        reading = _reading(site, line, index, f"{of}.{index}")
        found.setdefault((called(line.name), reading.axis, reading.bound), []).append(reading)
    return tuple(Landmark(readings[0].name, tuple(readings)) for readings in found.values())


def _lines(site: Site) -> Iterator[tuple[SiteRow | SiteFlange, int, str]]:
    yield from ((row, index, "rows") for index, row in enumerate(site.rows))
    yield from ((flange, index, "flanges") for index, flange in enumerate(site.flanges))


def called(name: str) -> str:
    """A name as it is compared: capitals and spaces tell no two landmarks apart."""
    return " ".join(name.casefold().split())


def named(lines: tuple[Landmark, ...], name: str, axis: int) -> list[Landmark]:
    """The landmarks of a name that cross an axis; a row and a flange edge, or both edges of one, may bear the same."""
    wanted = called(name)
    return [one for one in lines if called(one.name) == wanted and one.axis == axis]


def _reading(site: Site, line: SiteRow | SiteFlange, index: int, name: str) -> Reading:
    stations = (line.at.inch, line.second_at.inch) if line.at and line.second_at else None
    # An origin row is sure: all readings count from it.
    u_in = 0.0 if isinstance(line, SiteRow) and not line.reading.exact_in else site.u_in(line.u)
    second = as_read(f"{name}.second", line.second.inch, u_in) if line.second else None
    return Reading(line.name, index, line, as_read(name, line.reading.inch, u_in), second, stations)


def _mean(numbers: list[Propagated]) -> Propagated:
    share = 1.0 / len(numbers)
    return combined(share * sum(one.value for one in numbers), [(share, one) for one in numbers])
