"""Sizes of the template as it lies flat on the bench, before it is bent onto a curved skin."""

from __future__ import annotations

from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.making.making import Making


def template_outline(making: Making) -> tuple[float, float]:
    """Size of the template's plate along X and Y, flat: the window or the plug with its border [in]."""
    width_in, height_in = flat_size(making)
    border = 2.0 * making.template.border.inch
    return width_in + border, height_in + border


def flat_size(making: Making) -> tuple[float, float]:
    """Size of the window or the plug along X and Y as made, before it is bent onto a curved skin [in]."""
    x_min, y_min, x_max, y_max = making.chain.machinable.bounds
    size_in = [x_max - x_min, y_max - y_min]
    if stretch := template_stretch(making.layout):
        size_in[stretch.axis] *= stretch.ratio
    return size_in[0], size_in[1]


def flat_cut(making: Making) -> tuple[float, float]:
    """Size along X and Y of the cut that a template gives on flat scrap, flat itself.

    Returns:
        tuple: width and height, larger than on the skin by what a flexed template is stretched by [in].
    """
    cut, edge = making.chain.predicted.bounds, making.chain.machinable.bounds
    flat = flat_size(making)
    return (
        cut[2] - cut[0] + flat[0] - (edge[2] - edge[0]),
        cut[3] - cut[1] + flat[1] - (edge[3] - edge[1]),
    )
