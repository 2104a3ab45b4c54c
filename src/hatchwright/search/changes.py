"""Every kind of change that a rule may name, and what makes its candidates: of rows of rivets that are not drilled
yet, of opening, doubler and cover, and of the cover's screws."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from fractions import Fraction

from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws
from hatchwright.job.job import Job
from hatchwright.job.outline import Circle, DShape, Obround, Outline, RoundedRectangle
from hatchwright.job.parts import Doubler
from hatchwright.job.rivet_rows import LineRow, OffsetRow, PointRow, PolarRow
from hatchwright.layout.named import nuts_named
from hatchwright.remedy import Change, EntryChange
from hatchwright.said import Said, inch, said
from hatchwright.search.candidate import (
    Candidate,
    Concern,
    changed_length,
    either_way,
    entry_change,
    is_drilled,
    moved,
    numbers,
    one_entry,
    pitches,
    rounded,
    steps,
    typed,
)
from hatchwright.search.variation import gauge_text
from hatchwright.search.ways.edge_past_row import edge_past_row
from hatchwright.search.ways.moved_rivet import added_rivet, moved_rivet
from hatchwright.search.ways.new_cover import new_cover
from hatchwright.search.ways.new_ring import new_ring
from hatchwright.search.ways.next_rivet import next_rivet
from hatchwright.search.ways.reduced_head import (
    next_reduced_head,
    next_reduced_head_asked,
    reduced_head,
    reduced_head_asked,
)
from hatchwright.search.ways.stray_holes import cleaned_hole, filled_stray
from hatchwright.tables.limits import limit
from hatchwright.tables.materials import sheet_stock
from hatchwright.tables.nutplates import NUTPLATE_KINDS
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.screws import screw_size
from hatchwright.units import Length, parse_length

_SIZES = 2
"""Rivets of the next sizes only: what takes a quite other rivet is another design [-]."""
_PREPARATIONS = ("dimple", "countersink", "dimple over countersink")
_SCREW_STEP_IN, _SCREW_STEP_MM = Fraction(1, 16), Fraction(1)
_MM = Fraction(254, 10)
_SCREW_STEPS = 8


def row_distance(concern: Concern) -> Iterator[Candidate]:
    """The distance of a row from its edge, either way."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if isinstance(row, OffsetRow):
            edge = said(f"edge.{row.edge.replace(' ', '_')}_edge")
            field, old = f"rows.{at}.distance", row.distance
            yield from either_way(concern, field, old, "remedy.row_distance", row=row.name, edge=edge)


def row_place(concern: Concern) -> Iterator[Candidate]:
    """Both ends of a straight row along X or Y, moved square to it; one that runs aslant is left where it is."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if not isinstance(row, LineRow):
            continue
        for axis, name in enumerate(("X", "Y")):
            old = row.start[axis]
            if old.exact_in != row.end[axis].exact_in:
                continue
            for by in steps(concern):
                for signed in (by, -by):
                    new = moved(old, signed, concern.unit)
                    ends = (entry_change(f"rows.{at}.{end}.{axis}", old, new) for end in ("start", "end"))
                    was, will_be = inch(old.inch), inch(new.inch)
                    what = said("remedy.row_place", row=row.name, axis=name, old=was, new=will_be)
                    yield Candidate(tuple(ends), what)


def row_pitch(concern: Concern) -> Iterator[Candidate]:
    """The pitch of a row, or the number of its rivets, for a few less and more."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if isinstance(row, PointRow):
            continue
        if row.count is not None:
            for number in numbers(row.count):
                yield one_entry(f"rows.{at}.count", row.count, number, "remedy.row_count", row=row.name)
            continue
        if isinstance(row, PolarRow) or row.pitch is None:
            continue  # spaced by angle or side by side: what else would do is for who chose that
        count = sum(hole.row == row.name for hole in concern.layout.holes)
        for new in pitches(row.pitch, count, concern.unit):
            yield one_entry(f"rows.{at}.pitch", row.pitch, new, "remedy.row_pitch", row=row.name)


def row_stagger(concern: Concern) -> Iterator[Candidate]:
    """Whether a row starts half a pitch on, the other way round."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if isinstance(row, OffsetRow):
            what = said("remedy.row_unstagger" if row.stagger else "remedy.row_stagger", row=row.name)
            old, new = ("true", "false") if row.stagger else ("false", "true")
            yield Candidate((EntryChange(f"rows.{at}.stagger", old, new),), what)


def row_preparation(concern: Concern) -> Iterator[Candidate]:
    """Each other way to make a flush head sit."""
    for at in concern.rows:
        row = concern.job.rows[at]
        for new in _PREPARATIONS if row.preparation else ():
            if new != row.preparation:
                names = {"old": row.preparation, "new": new}
                told = {name: said(f"flush.{how.replace(' ', '_')}") for name, how in names.items() if how}
                what = said("remedy.row_preparation", row=row.name, **told)
                yield Candidate((EntryChange(f"rows.{at}.preparation", str(row.preparation), new),), what)


def row_rivet(concern: Concern) -> Iterator[Candidate]:
    """The rivet of all rows that have it: one size smaller or larger, or of the alloy that structure asks for."""
    for old in dict.fromkeys(concern.job.rows[at].rivet for at in concern.rows):
        rows = [at for at, row in enumerate(concern.job.rows) if row.rivet == old]
        if not set(rows) <= set(concern.rows):
            continue  # one of them is drilled
        part = parse_rivet(old)
        listed = (size for size in part.series.diameters if size != part.diameter)
        sizes = sorted(listed, key=lambda size: abs(size - part.diameter))
        others = [replace(part, letters="AD")] if part.letters == "A" else []
        for new in (*others, *(replace(part, diameter=size) for size in sizes[:_SIZES])):
            entries = tuple(EntryChange(f"rows.{at}.rivet", old, str(new)) for at in rows)
            yield Candidate(entries, said("remedy.row_rivet", old=old, new=str(new)))


def _sizes(outline: Outline) -> dict[str, Length]:
    """What gives an outline its size, by its key."""
    match outline:
        case RoundedRectangle() | DShape():
            return {"width": outline.width, "height": outline.height}
        case Circle():
            return {"diameter": outline.diameter}
        case Obround():
            return {"length": outline.length, "width": outline.width}
        case _:
            return {}


def _size_said(sizes: Iterable[Length]) -> Said:
    one, *other = (inch(size.inch) for size in sizes)
    return said("remedy.size", one=one, other=other[0]) if other else said("remedy.diameter", one=one)


def _resized(concern: Concern, field: str, outline: Outline, id: str) -> Iterator[Candidate]:
    """An outline along one of its sizes, then along all, larger and smaller by twice what is missing on one side."""
    old = _sizes(outline)
    some = [(key,) for key in old] + ([tuple(old)] if len(old) > 1 else [])
    for by in steps(concern):
        for keys in some:
            for signed in (by, -by):
                found = {key: changed_length(old[key], 2 * signed, concern.unit) for key in keys}
                new = {key: size for key, size in found.items() if size}
                if len(new) == len(keys):
                    entries = tuple(entry_change(f"{field}.{key}", old[key], new[key]) for key in keys)
                    was, will_be = (_size_said(sizes.values()) for sizes in (old, old | new))
                    yield Candidate(entries, said(id, old=was, new=will_be))


def _unmade_doubler(job: Job) -> Doubler | None:
    """The doubler, None where there is none or where it is cut already."""
    return None if job.as_made and job.as_made.doubler_outer else job.doubler


def doubler_size(concern: Concern) -> Iterator[Candidate]:
    """The outer size of a doubler that is not cut yet."""
    if doubler := _unmade_doubler(concern.job):
        yield from _resized(concern, "doubler.outer", doubler.outer, "remedy.doubler_size")


def land_size(concern: Concern) -> Iterator[Candidate]:
    """The size of the hole in the doubler."""
    doubler = concern.job.doubler
    if doubler and doubler.inner:
        yield from _resized(concern, "doubler.inner", doubler.inner, "remedy.land_size")


def opening_size(concern: Concern) -> Iterator[Candidate]:
    """The size of an opening that nobody mandates and that is not cut yet."""
    if not concern.is_mandated and not _is_cut(concern.job):
        yield from _resized(concern, "opening", concern.job.opening, "remedy.opening_size")


def _is_cut(job: Job) -> bool:
    return bool(job.as_made and job.as_made.opening)


def corner_radius(concern: Concern) -> Iterator[Candidate]:
    """The corner radius of the edges that a cause names."""
    job = concern.job
    cornered: dict[str, tuple[str, Outline | None]] = {
        "doubler inner edge": ("doubler.inner", job.doubler.inner if job.doubler else None),
        "cover edge": ("cover.outline", job.cover.outline if job.cover else None),
    }
    if doubler := _unmade_doubler(job):
        cornered["doubler outer edge"] = ("doubler.outer", doubler.outer)
    if not concern.is_mandated and not _is_cut(job):
        cornered["opening edge"] = ("opening", job.opening)
    for edge in sorted(concern.edges & cornered.keys()):
        field, outline = cornered[edge]
        if isinstance(outline, RoundedRectangle | DShape):
            old, named = outline.radius, said(f"edge.{edge.replace(' ', '_')}")
            yield from either_way(concern, f"{field}.radius", old, "remedy.corner_radius", edge=named)


def cover_size(concern: Concern) -> Iterator[Candidate]:
    """The lap, the gap or the outline of the cover, whichever gives its size."""
    cover = concern.job.cover
    if cover and cover.lap is not None:
        yield from either_way(concern, "cover.lap", cover.lap, "remedy.cover_lap")
    elif cover and cover.gap is not None:
        yield from either_way(concern, "cover.gap", cover.gap, "remedy.cover_gap")
    elif cover and cover.outline is not None:
        yield from _resized(concern, "cover.outline", cover.outline, "remedy.cover_size")


def doubler_gauge(concern: Concern) -> Iterator[Candidate]:
    """Stock gauges of the doubler, the nearest first."""
    doubler = _unmade_doubler(concern.job)
    if doubler is None:
        return
    old, stock = doubler.thickness, (one.value for one in sheet_stock(concern.layout.shop))
    for value in sorted(stock, key=lambda gauge_in: abs(gauge_in - old.inch)):
        new = parse_length(gauge_text(value, concern.unit), unit=concern.unit)
        yield one_entry("doubler.thickness", old, new, "remedy.doubler_gauge")


def doubler_sheet(concern: Concern) -> Iterator[Candidate]:
    """The doubler of the skin's material."""
    doubler, skin = _unmade_doubler(concern.job), concern.job.skin
    if doubler is None:
        return
    pairs = (("alloy", doubler.alloy, skin.alloy), ("temper", doubler.temper, skin.temper))
    entries = tuple(EntryChange(f"doubler.{key}", old, new) for key, old, new in pairs if old != new)
    kind = "sheet.clad" if doubler.clad else "sheet.bare"  # its cladding is not what is changed
    was, will_be = (said(kind, alloy=sheet.alloy, temper=sheet.temper) for sheet in (doubler, skin))
    yield Candidate(entries, said("remedy.doubler_sheet", old=was, new=will_be))


def bend_radius(concern: Concern) -> Iterator[Candidate]:
    """The bend radius of a mount's bracket."""
    mount = concern.job.mount
    if mount and mount.bracket:
        yield from either_way(concern, "mount.bracket.radius", mount.bracket.radius, "remedy.bend_radius")


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


_CHANGES: dict[Change, Callable[[Concern], Iterator[Candidate]]] = {
    Change.ROW_DISTANCE: row_distance,
    Change.ROW_PLACE: row_place,
    Change.ROW_PITCH: row_pitch,
    Change.ROW_STAGGER: row_stagger,
    Change.ROW_PREPARATION: row_preparation,
    Change.ROW_RIVET: row_rivet,
    Change.DOUBLER_SIZE: doubler_size,
    Change.LAND_SIZE: land_size,
    Change.OPENING_SIZE: opening_size,
    Change.CORNER_RADIUS: corner_radius,
    Change.COVER_SIZE: cover_size,
    Change.DOUBLER_GAUGE: doubler_gauge,
    Change.DOUBLER_SHEET: doubler_sheet,
    Change.BEND_RADIUS: bend_radius,
    Change.SCREW_INSET: screw_inset,
    Change.SCREW_NUMBER: screw_number,
    Change.SCREW_LENGTH: screw_length,
    Change.NUTPLATE_KIND: nutplate_kind,
    Change.NUTPLATE_EARS: nutplate_ears,
    Change.NUTPLATE_STRAP: nutplate_strap,
    Change.NEXT_RIVET: next_rivet,
    Change.CLEANED_HOLE: cleaned_hole,
    Change.FILLED_STRAY: filled_stray,
    Change.MOVED_RIVET: moved_rivet,
    Change.ADDED_RIVET: added_rivet,
    Change.REDUCED_HEAD: reduced_head,
    Change.NEXT_REDUCED_HEAD: next_reduced_head,
    Change.NEW_RING: new_ring,
    Change.EDGE_PAST_ROW: edge_past_row,
    Change.NEW_COVER: new_cover,
}


def candidates(change: Change, concern: Concern) -> Iterator[Candidate]:
    """Every change of one kind that may be tried, the smallest first."""
    return _CHANGES[change](concern)


_ASKS: dict[Change, Callable[[Concern], Iterator[Said]]] = {
    Change.REDUCED_HEAD: reduced_head_asked,
    Change.NEXT_REDUCED_HEAD: next_reduced_head_asked,
}


def data_asked(changes: Iterable[Change], concern: Concern) -> Iterator[Said]:
    """What is to be looked up before some kinds of change can be tried."""
    for change in changes:
        if change in _ASKS:
            yield from _ASKS[change](concern)
