"""PDF from data: texts stay literal, the same data make the same bytes, and lost words are found out."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime

import pypdfium2
import pytest

from hatchwright.documents import typst_pdf
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.drawings.writers import Paper
from hatchwright.errors import ExportError

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
PICTURE = b'<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in"><path d="M 0 0 L 1 1"/></svg>'
PICTURES = {"picture": PICTURE}
SET = {"title": "PAGE", "paper": Paper.LETTER}
HOSTILE = (
    "#set text(99pt) #panic()",
    '#read("/etc/passwd")',
    "$x^2$ *bold* _it_ `raw` @ref <label> \\n // c",
    "</svg><script>1</script> &amp; %%d \\U+0041",
    "][ }{ \" ' ",
)


@pytest.fixture
def page(tmp_path, monkeypatch):
    """A template of three lines, so that the setting itself is what is tested."""
    (tmp_path / "page.typ").write_text(
        '#let paper(given, data, picture) = [\n#set text(font: "DejaVu Sans")\n'
        "#for line in data.lines { block(line) }\n]\n",
        encoding="utf-8",
    )
    shutil.copy(typst_pdf._TEMPLATES / "set.typ", tmp_path)
    monkeypatch.setattr(typst_pdf, "_TEMPLATES", tmp_path)
    return tmp_path / "page.typ"


def text_of(data):
    with pypdfium2.PdfDocument(data) as pdf:
        return "".join(page.get_textpage().get_text_range() for page in pdf)


@pytest.mark.usefixtures("page")
def test_hostile_text_is_printed_as_it_was_typed():
    made = pdf_from(Part("page", {"lines": list(HOSTILE)}, PICTURES), **SET, stamp=STAMP)
    shown = text_of(made).replace("\r\n", "\n")
    for line in HOSTILE:
        assert line.strip() in shown


@pytest.mark.usefixtures("page")
def test_control_and_direction_characters_lose_their_power():
    made = pdf_from(Part("page", {"lines": ["a\x00b\u202ec\nd"]}, PICTURES), **SET, stamp=STAMP)
    shown = text_of(made)
    assert "\u202e" not in shown
    assert "\x00" not in shown
    assert "c d" in shown


@pytest.mark.usefixtures("page")
def test_a_hyphen_at_the_end_of_a_line_is_not_lost():
    """The reader takes it for the break of a word; one of these stands at the end of every line."""
    pdf_from(Part("page", {"lines": ["hand-hole " * n for n in range(9, 24)]}, PICTURES), **SET, stamp=STAMP)


@pytest.mark.usefixtures("page")
def test_the_same_data_and_time_make_the_same_bytes():
    first, again = (
        pdf_from(Part("page", {"lines": ["one"]}, PICTURES), **SET, stamp=STAMP) for _ in range(2)
    )
    later = pdf_from(
        Part("page", {"lines": ["one"]}, PICTURES), **SET, stamp=datetime(2027, 3, 1, 10, tzinfo=UTC)
    )
    assert first == again
    assert first != later


def test_a_template_that_drops_a_word_is_found_out(page):
    page.write_text("#let paper(given, data, picture) = data.lines.first()\n", encoding="utf-8")
    with pytest.raises(ExportError, match="two"):
        pdf_from(Part("page", {"lines": ["one", "two"]}, PICTURES), **SET, stamp=STAMP)


@pytest.mark.usefixtures("page")
def test_letters_that_the_fonts_lack_do_not_stop_a_paper():
    made = pdf_from(Part("page", {"lines": ["Rippe 日本 3"]}, PICTURES), **SET, stamp=STAMP)
    assert "Rippe" in text_of(made)
