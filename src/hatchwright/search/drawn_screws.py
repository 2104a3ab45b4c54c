"""Changes of the cover's screws and of their nutplates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from fractions import Fraction

from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws
from hatchwright.layout.named import nuts_named
from hatchwright.remedy import EntryChange
from hatchwright.said import inch, said
from hatchwright.search.candidate import (
    Candidate,
    Concern,
    changed_length,
    either_way,
    is_drilled,
    numbers,
    one_entry,
    pitches,
    rounded,
    steps,
    typed,
)
from hatchwright.search.variation import gauge_text
from hatchwright.tables.limits import limit
from hatchwright.tables.materials import sheet_stock
from hatchwright.tables.nutplates import NUTPLATE_KINDS
from hatchwright.tables.screws import screw_size
from hatchwright.units import Length, parse_length

_SCREW_STEP_IN, _SCREW_STEP_MM = Fraction(1, 16), Fraction(1)
_MM = Fraction(254, 10)
_SCREW_STEPS = 8


def _screws(concern: Concern) -> Screws | None:
    """The screws of the cover, None where there are none or where their holes are drilled already."""
    cover = concern.job.cover
    drilled = is_drilled(concern.layout.holes_of("screw"))
    return cover.screws if cover and not drilled else None


def screw_inset(concern: Concern) -> Iterator[Candidate]:
    """How far the screws lie inside the cover's edge, either way."""
    if screws := _screws(concern):
        yield from either_way(concern, "cover.screws.inset", screws.inset, "remedy.screw_inset")


def screw_number(concern: Concern) -> Iterator[Candidate]:
    """The number of screws, or their pitch."""
    screws = _screws(concern)
    if screws and screws.count is not None:
        for number in numbers(screws.count):
            yield one_entry("cover.screws.count", screws.count, number, "remedy.screw_count")
    elif screws and screws.pitch is not None:
        for new in pitches(screws.pitch, len(concern.layout.holes_of("screw")), concern.unit):
            yield one_entry("cover.screws.pitch", screws.pitch, new, "remedy.screw_pitch")


def screw_length(concern: Concern) -> Iterator[Candidate]:
    """Screws a sixteenth longer or shorter each time, or a millimeter where the screws are metric."""
    cover = concern.job.cover
    if cover is None or cover.screws is None or cover.screws.length is None:
        return
    old, is_metric = cover.screws.length, False
    with suppress(TableError):  # a thread that no table lists changes by inches
        is_metric = screw_size(cover.screws.size, concern.layout.shop).is_metric
    step_in, per_in, unit = (_SCREW_STEP_MM / _MM, _MM, "mm") if is_metric else (_SCREW_STEP_IN, 1, "in")
    for steps_on in range(1, _SCREW_STEPS + 1):
        for signed in (steps_on, -steps_on):
            value = old.exact_in + signed * step_in
            if value > 0:
                new = parse_length(f"{float(value * per_in):.4f}".rstrip("0").rstrip(".") + f" {unit}")
                yield one_entry("cover.screws.length", old, new, "remedy.screw_length")


def nutplate_kind(concern: Concern) -> Iterator[Candidate]:
    """Each other kind of nutplate with the same lugs."""
    screws = _screws(concern)
    kind = screws.nutplate if screws else None
    for one in NUTPLATE_KINDS.all() if kind else ():
        if kind and one.lugs == kind.lugs and one.nests_dimple != kind.nests_dimple:
            old, new = nuts_named(kind.called), nuts_named(one.called)
            what = said("remedy.nutplate_kind", old=old, new=new)
            yield Candidate((EntryChange("cover.screws.nut", kind.called, one.called),), what)


def nutplate_ears(concern: Concern) -> Iterator[Candidate]:
    """Each other way for sheet and ears to take the nutplate rivets."""
    screws = _screws(concern)
    if screws and screws.nutplate and screws.nut_ears:
        (new,) = {"dimple", "countersink"} - {screws.nut_ears}
        what = said("remedy.nutplate_ears", old=said(f"flush.{screws.nut_ears}"), new=said(f"flush.{new}"))
        yield Candidate((EntryChange("cover.screws.nut_ears", screws.nut_ears, new),), what)


def nutplate_strap(concern: Concern) -> Iterator[Candidate]:
    """A strap of the material of the innermost sheet under flat nutplates; a thicker or a wider one than there is."""
    screws = _screws(concern)
    kind = screws.nutplate if screws else None
    if screws is None or kind is None or kind.nests_dimple:
        return
    shop, unit, strap = concern.layout.shop, concern.unit, screws.strap
    least_in = limit("flush_screw_countersink_min", shop).value
    stock = (one.value for one in sheet_stock(shop) if one.value >= least_in)
    gauges = [parse_length(gauge_text(value_in, unit), unit=unit) for value_in in stock]
    if strap is None:
        yield from _new_straps(concern, screws, gauges)
        return
    field = "cover.screws.strap"
    for gauge in gauges:
        if gauge.exact_in > strap.thickness.exact_in:
            yield one_entry(f"{field}.thickness", strap.thickness, gauge, "remedy.strap_thickness")
    for by in steps(concern):
        if strap.width and (wider := changed_length(strap.width, 2 * by, unit)):
            yield one_entry(f"{field}.width", strap.width, wider, "remedy.strap_width")


def _new_straps(concern: Concern, screws: Screws, gauges: Iterable[Length]) -> Iterator[Candidate]:
    """Straps as wide as the edge distance of the screws asks on both sides; none under lugs that lie across them."""
    holes, shop, unit = concern.layout.holes_of("screw"), concern.layout.shop, concern.unit
    sheet = concern.layout.part(holes[0].stack[-1]) if holes else None
    if sheet is None or holes[0].nominal_in is None or screws.nut_lugs != "along":
        return
    across_in = 2.0 * limit("cover_screw_edge_distance", shop).value * holes[0].nominal_in
    least = Fraction(across_in).limit_denominator(10**6) * (Fraction(127, 5) if unit == "mm" else 1)
    width = parse_length(typed(rounded(least, unit, up=True), unit), unit=unit)
    of = {"alloy": sheet.alloy, "temper": sheet.temper, **({"clad": "true"} if sheet.clad else {})}
    named = said("sheet.clad" if sheet.clad else "sheet.bare", alloy=sheet.alloy, temper=sheet.temper)
    for gauge in gauges:
        new = {**of, "thickness": gauge.text, "width": width.text}
        entries = tuple(EntryChange(f"cover.screws.strap.{key}", "", text) for key, text in new.items())
        strap = said("strap.sized", sheet=named, thickness=inch(gauge.inch), width=inch(width.inch))
        yield Candidate(entries, said("remedy.nutplate_strap", old=said("strap.none"), new=strap))
