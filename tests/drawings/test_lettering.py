"""Lettering: widths against the shipped font files, read by fontTools."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.drawings.lettering import (
    BOLD_RATIO,
    CAPITAL_RATIO,
    FAMILY,
    FONTS,
    fitted,
    literal,
    text_width_in,
    wrapped,
)

ASCII = "".join(map(chr, range(32, 127)))
FIGURES = "ABCDEFGHIJKLMNOPQRSTUVWXYZ 0123456789 .032 R.75 4X (11.000)"


@pytest.fixture(scope="module", params=["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"])
def font(request):
    return TTFont(FONTS / request.param)


def width_em(font, words):
    glyphs = font.getBestCmap()
    return sum(font["hmtx"][glyphs[ord(c)]][0] for c in words) / font["head"].unitsPerEm


def test_the_shipped_font_is_the_family_that_is_named(font):
    assert font["name"].getDebugName(1) == FAMILY


def test_a_capital_has_the_height_that_is_asked_for(font):
    glyph = font["glyf"][font.getBestCmap()[ord("H")]]
    assert glyph.yMax / font["head"].unitsPerEm == pytest.approx(CAPITAL_RATIO, abs=5e-4)


def test_widths_are_those_of_the_font():
    font = TTFont(FONTS / "DejaVuSans.ttf")
    for letter in ASCII:
        wanted = width_em(font, letter) / CAPITAL_RATIO
        assert text_width_in(letter, height_in=1.0) == pytest.approx(wanted, abs=1e-3)


def test_bold_is_never_wider_than_thought():
    plain, bold = TTFont(FONTS / "DejaVuSans.ttf"), TTFont(FONTS / "DejaVuSans-Bold.ttf")
    assert max(width_em(bold, letter) / width_em(plain, letter) for letter in ASCII) <= BOLD_RATIO
    assert text_width_in(FIGURES, height_in=1.0, bold=True) >= width_em(bold, FIGURES) / CAPITAL_RATIO


def test_the_licence_is_shipped_with_the_fonts():
    words = (FONTS / "LICENSE").read_text(encoding="utf-8")
    assert "Bitstream Vera Fonts Copyright" in words
    assert "Permission is hereby granted, free of charge" in words


@given(st.text(max_size=200))
def test_lettered_text_holds_nothing_that_cannot_be_seen(words):
    shown = literal(words)
    assert len(shown) == len(words)
    assert all(letter.isprintable() for letter in shown)
    assert literal(shown) == shown


@given(st.text(min_size=1, max_size=300), st.floats(0.3, 8.0))
def test_a_fitted_line_fits(words, width):
    shown, height = fitted(words, height_in=0.12, width_in=width, least_height_in=0.08)
    assert 0.08 <= height <= 0.12
    assert text_width_in(shown, height_in=height) <= width * (1 + 1e-9)
    assert shown == literal(words) or shown.endswith("…")


@given(st.text(max_size=300), st.floats(0.5, 8.0))
def test_wrapped_lines_fit_and_lose_no_letter(words, width):
    lines = wrapped(words, height_in=0.12, width_in=width)
    assert all(text_width_in(line, height_in=0.12) <= width or len(line) == 1 for line in lines)
    assert "".join(lines).replace(" ", "") == literal(words).replace(" ", "")
