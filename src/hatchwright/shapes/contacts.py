"""Where lines and arcs meet, exactly, and pieces cut at those places."""

from __future__ import annotations

import numpy as np

from hatchwright.shapes.pieces import Bools, Complexes, Floats, Integers, Pieces

SAME_IN = 4e-12
"""A place nearer than this to a piece lies on it; some hundred times the rounding of a coordinate [in]."""

TANGENT_IN = 1e-12
"""A line or circle that misses or cuts another by less than this touches it in one point [in]."""


def contacts(parts: Pieces) -> tuple[Integers, Integers, Complexes]:
    """Every place where two pieces cross or touch, or where an end of one lies on the other.

    Returns:
        tuple: the two pieces, by index, and the place [in], each of shape (k,); places may repeat.
    """
    i, j = np.triu(_boxes_meet(parts), 1).nonzero()
    p, q = parts.taken(i), parts.taken(j)
    p_arc, q_arc = p.is_arc, q.is_arc
    every = np.arange(len(i))
    pairs = [every, every, every, every]
    places = [p.start, p.end, q.start, q.end]
    for chosen, carriers_meet in (
        (~p_arc & ~q_arc, _line_line),
        (~p_arc & q_arc, _line_circle),
        (p_arc & ~q_arc, lambda arcs, lines: _line_circle(lines, arcs)),
        (p_arc & q_arc, _circle_circle),
    ):
        which = chosen.nonzero()[0]
        if which.size:
            pair, place = carriers_meet(p.taken(which), q.taken(which))
            pairs.append(which[pair])
            places.append(place)
    pair, place = np.concatenate(pairs), np.concatenate(places)
    on_both = (np.abs(p.feet(place, pair) - place) <= SAME_IN) & (
        np.abs(q.feet(place, pair) - place) <= SAME_IN
    )
    return i[pair[on_both]], j[pair[on_both]], place[on_both]


def cut_apart(parts: Pieces) -> tuple[Pieces, Integers]:
    """Cut pieces at all their contacts, so that the new ones meet only at their ends.

    Returns:
        tuple: m pieces in the order of the old ones, and the old piece of each, shape (m,).
    """
    i, j, place = contacts(parts)
    return _cut(parts, np.concatenate([i, j]), np.concatenate([place, place]))


def arc_bulge(start: Complexes, end: Complexes, center: Complexes, hand: Floats) -> Floats:
    """Bulge of arcs of at most a half circle, from ends, center and sign; 0 for sign 0, shape (n,)."""
    swept_rad = np.abs(np.angle((end - center) * (start - center).conj()))
    bulge: Floats = hand * np.tan(0.25 * swept_rad)
    return bulge


def _cut(parts: Pieces, which: Integers, places: Complexes) -> tuple[Pieces, Integers]:
    inner = (np.abs(places - parts.start[which]) > SAME_IN) & (np.abs(places - parts.end[which]) > SAME_IN)
    which, places = which[inner], places[inner]
    if not which.size:
        return parts, np.arange(parts.count)
    old = np.concatenate([np.arange(parts.count), which])
    start = np.concatenate([parts.start, places])
    along = np.concatenate([np.zeros(parts.count), _along(parts, which, places)])
    order = np.lexsort((along, old))
    old, start = old[order], start[order]
    repeated = (old[1:] == old[:-1]) & (np.abs(start[1:] - start[:-1]) <= SAME_IN)
    fresh = np.concatenate([[True], ~repeated])
    old, start = old[fresh], start[fresh]
    last = np.append(old[1:] != old[:-1], True)
    end = np.where(last, parts.end[old], np.roll(start, -1))
    center, radius = parts.center[old], parts.radius[old]
    whole = last & np.insert(last[:-1], 0, True)
    bulge = np.where(whole, parts.bulge[old], arc_bulge(start, end, center, np.sign(parts.bulge[old])))
    center = np.where(parts.is_arc[old], center, start)
    return Pieces(start, end, bulge, center, radius), old


def _boxes_meet(parts: Pieces) -> Bools:
    x_min, y_min, x_max, y_max = parts.boxes()
    in_x: Bools = x_min[:, None] <= x_max + SAME_IN
    in_y: Bools = y_min[:, None] <= y_max + SAME_IN
    return in_x & in_x.T & in_y & in_y.T


def _line_line(p: Pieces, q: Pieces) -> tuple[Integers, Complexes]:
    along_p, along_q = p.end - p.start, q.end - q.start
    crossed = (along_p.conj() * along_q).imag
    apart = np.abs(crossed) > SAME_IN * np.maximum(np.abs(along_p), np.abs(along_q))
    share = ((q.start - p.start).conj() * along_q).imag / np.where(apart, crossed, 1.0)
    meet = apart.nonzero()[0]
    return meet, (p.start + share * along_p)[meet]


def _line_circle(lines: Pieces, arcs: Pieces) -> tuple[Integers, Complexes]:
    along = lines.end - lines.start
    along = along / np.abs(along)
    center = (arcs.center - lines.start) * along.conj()
    height = np.abs(center.imag)
    spare = arcs.radius - height
    half_chord = np.sqrt(np.where(spare > TANGENT_IN, spare * (arcs.radius + height), 0.0))
    meet = (spare > -TANGENT_IN).nonzero()[0]
    places = lines.start + along * np.array([center.real - half_chord, center.real + half_chord])
    return np.concatenate([meet, meet]), places[:, meet].ravel()


def _circle_circle(p: Pieces, q: Pieces) -> tuple[Integers, Complexes]:
    between = q.center - p.center
    apart = np.abs(between)
    one_center = apart <= SAME_IN
    apart = np.where(one_center, 1.0, apart)
    along = 0.5 * (apart + (p.radius - q.radius) * (p.radius + q.radius) / apart)
    spare = p.radius - np.abs(along)
    outer_gap, inner_gap = apart - (p.radius + q.radius), np.abs(p.radius - q.radius) - apart
    touching = (np.abs(outer_gap) < TANGENT_IN) | (np.abs(inner_gap) < TANGENT_IN)
    half_chord = np.sqrt(np.where(touching | (spare < 0.0), 0.0, spare * (p.radius + np.abs(along))))
    along = np.where(touching, np.sign(along) * p.radius, along)
    meet = (~one_center & (touching | (spare > 0.0))).nonzero()[0]
    unit = between / apart
    places = p.center + unit * (along + 1j * np.array([half_chord, -half_chord]))
    return np.concatenate([meet, meet]), places[:, meet].ravel()


def _along(parts: Pieces, which: Integers, places: Complexes) -> Floats:
    """A measure that grows along the piece, shape (k,)."""
    start, chord = parts.start[which], (parts.end - parts.start)[which]
    turned = np.angle((places - parts.center[which]) * (start - parts.center[which]).conj())
    straight = ((places - start) * chord.conj()).real
    measure: Floats = np.where(parts.is_arc[which], np.abs(turned), straight)
    return measure
