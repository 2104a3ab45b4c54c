"""Every paper of a set, in the order in which it is read, by the name under which it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from msgspec import Struct

from hatchwright.documents.carry_card import carry_card, carry_card_pdf
from hatchwright.drawings.bay_view import bay_sheet
from hatchwright.drawings.hole_map_view import hole_map
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.overview_sheet import overview_sheet
from hatchwright.drawings.part_sheet import part_sheets
from hatchwright.drawings.true_size_view import true_size_sheet
from hatchwright.drawings.writers import Format
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.making.guide import job_recipe
from hatchwright.progress import Progress
from hatchwright.said import said
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.annex import annex_of
from hatchwright.workflow.paper_set import Drawing, PaperSet
from hatchwright.workflow.papers_by_hand import (
    as_built_paper,
    forms_paper,
    lists_papers,
    log_paper,
    looks_paper,
    record_paper,
    trial_paper,
)
from hatchwright.workflow.pins import pins_of
from hatchwright.workflow.template_files import template_of

_TO_SCALE = (Format.PDF, Format.SVG)
"""A machine follows a drawing of true size."""


class Drawn(Struct, frozen=True):
    """A paper that is drawn: how many sheets it takes is known before a file is written.

    Args:
        draws: the drawings of one side; none where the job has nothing to draw there.
    """

    name: str
    draws: Callable[[PaperSet], Iterable[Drawing]]


class Made(Struct, frozen=True):
    """A paper of any other kind.

    Args:
        makes: the files of one side; none where the job has nothing to say there.
        is_usual: whether it is made unless other papers are asked for by name.
    """

    name: str
    makes: Callable[[PaperSet, Progress], Iterable[MadeFile]]
    is_usual: bool = True


def _card(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    side = one.examination
    progress(0.0, said("progress.setting", paper=one.called(MadeKind.CARRY_CARD)))
    card = carry_card(
        side.layout,
        side.making,
        side.worst_first(),
        verdict=side.verdict,
        not_checked=side.not_checked(),
        date=one.date,
        tongue=one.card_language,
    )
    recipe = job_recipe(side.layout, side.making)
    picture = picture_svg_of(hole_map(side.layout, side.findings, recipe).sheet, margin_in=0.02)
    content = carry_card_pdf(
        card,
        hole_map=picture,
        paper=one.paper.plain,
        stamp=one.stamp,
        chain_head=one.recorded.head,
    )
    yield one.set_in_words(MadeKind.CARRY_CARD, content)


def _overview(one: PaperSet) -> Iterator[Drawing]:
    side = one.examination
    stop, paper_in = stop_text(side.verdict), one.paper.plain.size_in
    sheet = overview_sheet(side.layout, side.findings, paper_in=paper_in, date=one.date, stop=stop)
    yield Drawing(MadeKind.OVERVIEW, sheet, formats=_TO_SCALE, true_size=False)


def _layout(one: PaperSet) -> Iterator[Drawing]:
    """The whole bay for a machine; on paper the new parts alone."""
    side = one.examination
    whole = one.carried(bay_sheet(side.layout, side.findings, date=one.date))
    printed = one.carried(true_size_sheet(side.layout, side.findings, date=one.date))
    yield Drawing(MadeKind.LAYOUT, whole, printed)


def _parts(one: PaperSet) -> Iterator[Drawing]:
    """Doubler, cover and plug to scale on paper, and each at full size for a machine."""
    side = one.examination
    stop, paper_in = stop_text(side.verdict), one.paper.plain.size_in
    recipe = job_recipe(side.layout, side.making)
    parts = part_sheets(side.layout, recipe, paper_in=paper_in, date=one.date, stop=stop)
    for drawn in parts.drawn:
        yield Drawing(MadeKind.PARTS, drawn.sheet, formats=_TO_SCALE, part=drawn.part, true_size=False)
    for cut in parts.cut:
        yield Drawing(MadeKind.PARTS, one.carried(cut.sheet), formats=(Format.DXF,), part=cut.part)


def _annex(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    progress(0.0, said("progress.setting", paper=one.called(MadeKind.ANNEX)))
    yield one.set_in_words(MadeKind.ANNEX, annex_of(one))


def _package(one: PaperSet, progress: Progress) -> Iterator[MadeFile]:
    from hatchwright.workflow.package import package_of  # with the strength that it alone works out

    progress(0.0, said("progress.setting", paper=one.called(MadeKind.PACKAGE)))
    yield one.set_in_words(MadeKind.PACKAGE, package_of(one, progress))


PAPERS: tuple[Drawn | Made, ...] = (
    Made("card", _card),
    Drawn("overview", _overview),
    Drawn("layout", _layout),
    Drawn("parts", _parts),
    Made("template", template_of, is_usual=False),
    Made("pins", pins_of, is_usual=False),
    Made("trial", trial_paper),
    Made("lists", lists_papers),
    Made("as-built", as_built_paper, is_usual=False),
    Made("looks", looks_paper),
    Made("log", log_paper),
    Made("record", record_paper, is_usual=False),
    Made("annex", _annex),
    Made("forms", forms_paper, is_usual=False),
    Made("package", _package, is_usual=False),
)
"""The card leads from one step to the next, so it is read first; then what is laid out, and what is cut by."""

NAMES = tuple(paper.name for paper in PAPERS)
"""What may be asked for by name."""

ON_REQUEST = frozenset(("as-built", "record", "package", "forms"))
"""Names of those that the page does not offer to make unless somebody ticks them."""
