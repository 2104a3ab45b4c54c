"""The real offset of a cutter from the widths of a trial cut by scan, and together with those by caliper.

Method: docs/theory/scan.md, eq. 12 and 15.   Source: [JCGM 100:2008], 5.1.2 and G.4.1.
"""

from __future__ import annotations

import math

from msgspec.structs import replace

from hatchwright.metrology.budget import Component, budget
from hatchwright.metrology.real_offset import RealOffset, coverage_factor


def scanned_offset(
    apart_in: tuple[float, float],
    *,
    own_in: tuple[float, float],
    edge_in: float,
    template_standard_in: float,
    scatter_in: float,
    places: int,
) -> RealOffset:
    """Evaluate what a trial template and its cut differ by, along X and along Y.

    Args:
        apart_in: template less cut for a window, cut less template for a plug [in].
        own_in: standard uncertainty of each width by itself: scale and bow of its axis, never divided by places [in].
        edge_in: of the place of the edge, in both widths alike [in].
        template_standard_in: standard uncertainty of the template's size [in].
        scatter_in: of single places about their line, one standard deviation [in].
        places: number of places.
    """
    mean_u = math.hypot(0.25 * math.hypot(*own_in), edge_in, 0.5 * template_standard_in)
    next_u = math.hypot(mean_u, math.sqrt(0.5) * scatter_in)
    factor = coverage_factor(math.inf)
    return RealOffset(
        offset_in=0.25 * sum(apart_in),
        standard_in=mean_u,
        freedom=math.inf,
        expanded_in=factor * mean_u,
        next_cut_in=next_u,
        next_cut_freedom=math.inf,
        next_cut_expanded_in=factor * next_u,
        scatter_in=math.sqrt(2.0) * scatter_in,
        count=places,
    )


def differ_by(caliper: RealOffset, scan: RealOffset, *, template_standard_in: float) -> tuple[float, float]:
    """By how much caliper and scan differ, and half of the interval within which two that agree do [in]; both were held
    against one template, whose error is in both alike."""
    apart_u = math.sqrt(sum(_own(one, template_standard_in) for one in (caliper, scan)))
    freedom = min(caliper.freedom, scan.freedom)
    return abs(caliper.offset_in - scan.offset_in), coverage_factor(freedom) * apart_u


def together(caliper: RealOffset, scan: RealOffset, *, template_standard_in: float) -> RealOffset:
    """The weighted mean of both, each by the inverse of its own variance; the template's error is in it once."""
    own = [_own(one, template_standard_in) for one in (caliper, scan)]
    weights = [1.0 / variance / sum(1.0 / each for each in own) for variance in own]
    scatter_in = max(caliper.scatter_in, scan.scatter_in)
    of_caliper_in, of_scan_in = (weight * math.sqrt(one) for weight, one in zip(weights, own, strict=True))
    mean, next_cut = (
        budget(
            (
                Component("caliper", math.hypot(of_caliper_in, scatter), freedom=caliper.freedom),
                Component("scan", of_scan_in),
                Component("template", template_standard_in, sensitivity=0.5),
            )
        )
        for scatter in (0.0, 0.5 * scatter_in)
    )
    return replace(
        scan,
        offset_in=weights[0] * caliper.offset_in + weights[1] * scan.offset_in,
        standard_in=mean.standard,
        freedom=mean.freedom,
        expanded_in=coverage_factor(mean.freedom) * mean.standard,
        next_cut_in=next_cut.standard,
        next_cut_freedom=next_cut.freedom,
        next_cut_expanded_in=coverage_factor(next_cut.freedom) * next_cut.standard,
        scatter_in=scatter_in,
        count=caliper.count + scan.count,
    )


def _own(one: RealOffset, template_standard_in: float) -> float:
    """Variance of an offset without the template's error [in^2]."""
    return max(one.standard_in**2 - (0.5 * template_standard_in) ** 2, 1e-14)
