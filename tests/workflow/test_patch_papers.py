"""The papers of a flush patch, of every sort of it: its parts on layers of their own, in the words of a patch.

DXF files are read with ezdxf, PDF files with pypdfium2. Sizes are worked by hand from the entries of the job.
"""

from __future__ import annotations

import io
from datetime import UTC, datetime

import ezdxf
import pypdfium2
import pytest

from hatchwright.drawings.made_file import MadeKind
from hatchwright.job.file import read_job
from hatchwright.workflow.examine import examine
from hatchwright.workflow.papers import papers
from hatchwright.workflow.pins import pin_files
from hatchwright.workflow.template_files import template_files
from tests.conftest import EXAMPLES
from tests.made_once import by_name

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
SPLIT = '[patch.split]\nalong = "x"\nat = "7.30"\ngap = ".60"\n\n[doubler]'
CURVED = '[skin.curvature]\nalong = "y"\nchord = "8"\nrise = ".44"\nother_rise = "0"\n\n[[bay.rows]]'
BEHIND = '[[bay.keep_outs]]\nname = "fuel line"\nx_from = "4"\nx_to = "4.2"\ndepth = ".5"\n\n[[bay.rows]]'
CORROSION = '[[patch.extent]]\nat = ["6.2", "5.2"]\nuncertainty = "0"\n\n[patch.plug]'

SORTS = {
    "crack": (),
    "split": (("[doubler]", SPLIT),),
    "curved": (("[[bay.rows]]", CURVED),),
    "something behind": (("[[bay.rows]]", BEHIND),),
    "corrosion": (('damage = "crack"', 'damage = "corrosion"'), ("[patch.plug]", CORROSION)),
    "metric": (),
}


def job_of(sort):
    text = (EXAMPLES / "finch.toml").read_text(encoding="utf-8")
    for old, new in SORTS[sort]:
        assert old in text
        text = text.replace(old, new, 1)
    job = read_job(text)
    return job.model_copy(update={"units": "mm"}) if sort == "metric" else job


@pytest.mark.parametrize("sort", SORTS)
def test_every_sort_of_patch_has_its_papers(sort):
    examination = examine(job_of(sort), with_strength=False)
    made = by_name(papers(examination, stamp=STAMP, stem="p"))
    card = next(content for name, content in made.items() if "CARRY_CARD" in name)
    words = text_of(card)
    assert "Cut-out" in words
    assert "Find the damage again" in words
    drawing = text_of(
        next(content for name, content in made.items() if "LAYOUT" in name and "LETTER" in name)
    )
    assert "CUT-OUT" in drawing
    assert "opening" not in drawing.lower()
    assert "cover" not in drawing.lower()


def test_a_patch_has_template_and_pins_like_any_other_cut():
    examination = examine(job_of("crack"), with_strength=False)
    kinds = {
        one.kind
        for one in (
            *template_files(examination, stamp=STAMP, stem="p"),
            *pin_files(examination, stamp=STAMP, stem="p"),
        )
    }
    assert MadeKind.TEMPLATE in kinds


def test_plug_and_doubler_are_closed_edges_on_layers_of_their_own():
    """The plug 1/32 inside a cut-out of 3.00 x 2.00; the doubler 6.20 x 5.20 and the strip of its split .60 wide."""
    made = by_name(papers(examine(job_of("split"), with_strength=False), stamp=STAMP, stem="p"))
    drawing = next(content for name, content in made.items() if name.endswith("LAYOUT_LEFT_IN.dxf"))
    doc = ezdxf.read(io.StringIO(drawing.decode("utf-8")))
    edges = {}
    for one in doc.modelspace().query("LWPOLYLINE"):
        if one.dxf.layer in ("PLUG", "DOUBLER", "OPENING"):
            assert one.closed
            y = [y for _, y, *_ in one.get_points()]
            edges.setdefault(one.dxf.layer, []).append(max(y) - min(y))
    assert edges["OPENING"] == [pytest.approx(2.0)]
    assert edges["PLUG"] == [pytest.approx(2.0 - 2 / 32)]
    assert sorted(edges["DOUBLER"]) == [pytest.approx(0.6), pytest.approx(5.2)]


def text_of(pdf):
    document = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_bounded() for page in document)
