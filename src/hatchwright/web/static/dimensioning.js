// Where each dimension of the drawing stands: as near to its rank as its figure finds ground that no edge crosses, along
// its line or beyond its end, on the other side of the parts, across the opening, or beside its line with a leader. All
// places are in px of the frame, x to the right and y down.
"use strict";
const dimensioning = (() => {
  const { EDGE, HOLE, WORDS, CENTER, CELL_PX, FRAME_PX, widthOf, blockBox, at, isFree } = ground;
  const HEAD_PX = 9, TAIL_PX = 2 * HEAD_PX;
  const NARROW_PX = 520; // no long leaders there, which would cover the part, and so no call-outs in want of the opening

  // Dimensions stand in ranks below and to the left, the longest outermost; how much room they need there
  const ranks = (notes, isNear) => {
    const size = ground.size_px(), found = { below: [], left: [] };
    for (const note of notes) {
      if (note.kind !== "dimension" || note.isNear !== isNear) continue;
      const axis = note.isLevel ? 0 : 1;
      (note.isLevel ? found.below : found.left).push([Math.abs(note.span[1][axis] - note.span[0][axis]), note]);
    }
    for (const rank of [found.below, found.left]) rank.sort(([one], [other]) => one - other);
    let below = 0.9 * size, left = 0.7 * size;
    for (const [, note] of found.below) { note.off = below + 0.6 * size; below += 1.75 * size; }
    for (const [, note] of found.left) {
      const wide = Math.max(...narrow(note).map((line) => widthOf(line, size)));
      note.off = left + wide / 2 + 3;
      left += wide + 14;
    }
    return { below: found.below.length ? below + 0.5 * size : 0, left: found.left.length ? left + 2 : 0 };
  };
  const narrow = (note) => (note.isMade ? [note.lines[0].replace(/\s.*/, ""), note.lines[0].replace(/^\S+\s/, "")] : note.lines);
  const blocksOf = (note) => (note.isLevel && note.isMade ? [note.lines, narrow(note)] : [narrow(note)]);
  const MOST_SHARE = 0.25;
  const room = (notes, name, { wide, high }) => {
    const rim = 8;
    if (name === "close") { const { below, left } = ranks(notes, true); return { left, bottom: below, right: rim, top: rim }; }
    const { below, left } = ranks(notes, false); // where they would push the bay aside, they wait until one comes nearer
    return { left: left < MOST_SHARE * wide ? left : rim, bottom: below < MOST_SHARE * high ? below : rim, right: rim, top: rim };
  };

  // The lines on which a dimension may stand, what is nearest to its rank first
  const MOST_OFF_PX = 200, LEAST_OFF_PX = 4, OTHER_SIDE = 60, OUT_OF_RANK = 80, ACROSS = 90, ACROSS_NARROW = 50, BROKEN = 6;
  const SIDES = { below: ["bottom", 1], above: ["top", -1], left: ["left", -1], right: ["right", 1] };
  const tracks = (note, { base, used, half, reaches, frame, span: [from, to] }) => {
    const found = [], own = note.isLevel ? "below" : "left";
    for (const side of note.isNear ? [own, note.isLevel ? "above" : "right"] : [own]) {
      const [edge, out] = SIDES[side], ranked = used[side] + half, best = side === own ? Math.max(note.off, ranked) : ranked;
      const cost = side === own ? 0 : OTHER_SIDE;
      found.push({ side, off: best, line: base[edge] + out * best, cost });
      for (let off = LEAST_OFF_PX + half; off < best + MOST_OFF_PX; off += CELL_PX) { // rather beyond the shorter ones than inside them
        found.push({ side, off, line: base[edge] + out * off, cost: cost + Math.abs(off - best) + (off < ranked ? OUT_OF_RANK : 0) });
      }
    }
    if (reaches) { // across the opening no line leads out to it, so it must end on the edge itself
      const [low, high] = reaches.bounds, middle = (low + high) / 2, least = frame.wide < NARROW_PX ? ACROSS_NARROW : ACROSS;
      for (let line = low + CELL_PX; line < high; line += CELL_PX) {
        if (reaches.at(line, from) && reaches.at(line, to)) found.push({ side: "across", off: 0, line, cost: least + Math.abs(line - middle) / 4 });
      }
    }
    const most = note.isLevel ? frame.high : frame.wide;
    return found.filter(({ line }) => line > half && line < most - half).sort((one, other) => one.cost - other.cost);
  };
  // Whether an outline reaches, on a line over it, as far as its outermost point
  const reachOf = (outline, axis) => {
    const runs = outline.map((point) => (axis ? [point[1], point[0]] : point)), across = runs.map(([, v]) => v);
    const reaches = (line, end) => runs.some(([u, v], k) => {
      const [u0, v0] = runs[k ? k - 1 : runs.length - 1], share = v === v0 ? 0 : (line - v0) / (v - v0);
      return share >= 0 && share <= 1 && (v === v0 ? v === line : true) && Math.abs(u0 + share * (u - u0) - end) < 1;
    });
    return { bounds: [Math.min(...across), Math.max(...across)], at: reaches };
  };

  // A dimension is shown with both its ends, its lines and its whole figure, or not at all
  const ALONG = [0, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75], BEYOND = 30, MOST_BEYOND_PX = 80, MOST_BESIDE = 0.5;
  const place = (note, { ends, base, used, opening, frame }) => {
    const size = ground.size_px(), axis = note.isLevel ? 0 : 1, flip = (u, v) => (note.isLevel ? [u, v] : [v, u]);
    const feet = [...ends].sort((one, other) => one[axis] - other[axis]), [from, to] = feet.map((end) => end[axis]);
    if (from < FRAME_PX || to > (note.isLevel ? frame.wide : frame.high) - FRAME_PX) return null;
    const isOfOpening = opening && [Math.min, Math.max].every((most, k) => Math.abs(most(...opening.map((point) => point[axis])) - feet[k][axis]) < 1);
    const reaches = note.isNear && isOfOpening ? reachOf(opening, axis) : null;
    const isClear = ({ line, side }) => {
      let hides = false;
      const isBeside = [-CELL_PX, 0, CELL_PX].some((off) => { // an edge or another line: the two would be read as one
        let lines = 0, count = 0;
        ground.along(flip(from, line + off), flip(to, line + off), (taken) => { count += 1; if (taken & (EDGE | CENTER)) lines += 1; if (taken & WORDS && !off) hides = true; });
        return lines > MOST_BESIDE * count;
      });
      if (side !== "across" && note.isNear) for (const end of feet) ground.along(end, flip(end[axis], line), (taken) => { if (taken & WORDS) hides = true; });
      return !hides && !isBeside;
    };
    let best = null, least = Infinity;
    blocksOf(note).forEach((block, broken) => {
      const box = blockBox(block, size), long = box[axis], across = box[1 - axis];
      const half = note.isLevel ? across / 2 : across / 2 + 3;
      const fits = to - from >= long + 2 * HEAD_PX + 6, free = Math.max(to - from - long - 2 * HEAD_PX - 6, 0) / 2;
      const inside = fits ? ALONG.map((share) => [(from + to) / 2 + share * free, 0]) : [];
      const first = TAIL_PX + 4 + long / 2, beyond = [];
      for (let more = 0; more < MOST_BEYOND_PX; more += 4 * CELL_PX) beyond.push([to + first + more, BEYOND + more], [from - first - more, BEYOND + more]);
      for (const track of tracks(note, { base, used, half, reaches, frame, span: [from, to] })) {
        const cost = track.cost + broken * BROKEN;
        if (cost >= least) break;
        const middles = track.side === "across" ? inside : fits ? [...inside, ...beyond] : beyond.map(([u, more]) => [u, more - BEYOND]);
        const found = middles.find(([u, more]) => cost + more < least && isFree(at(flip(u, track.line), box)));
        if (!found || !isClear(track)) continue;
        least = cost + found[1];
        best = { ...track, block, box, half, fits, feet, from, to, flip, middle: flip(found[0], track.line), u: found[0] };
      }
    });
    return best || !note.isNear ? best : withLeader(note, { base, used, feet, from, to, flip, isClear, frame, size, axis });
  };

  // Nowhere on its line: the line where it belongs, the figure near it on free ground, and a leader between them
  const DIRECTIONS = Array.from({ length: 16 }, (_, k) => [Math.cos(k * Math.PI / 8), Math.sin(k * Math.PI / 8)]);
  const REACHES_PX = [16, 24, 34, 46, 60, 80, 105, 135];
  const withLeader = (note, { base, used, feet, from, to, flip, isClear, frame, size, axis }) => {
    const block = narrow(note), box = blockBox(block, size), lines = tracks(note, { base, used, half: LEAST_OFF_PX, frame, span: [from, to] });
    const track = lines.find(isClear);
    if (!track) return null;
    const fits = to - from >= 3 * HEAD_PX;
    for (const reach of REACHES_PX) {
      for (const share of [0.5, 0.3, 0.7]) for (const [x, y] of DIRECTIONS) {
        const tip = flip(from + share * (to - from), track.line), end = [tip[0] + reach * x, tip[1] + reach * y];
        const middle = [end[0] + x * box[0] / 2, end[1] + y * box[1] / 2];
        let hides = false;
        ground.along(tip, end, (taken) => { if (taken & (WORDS | HOLE)) hides = true; });
        if (hides || !isFree(at(middle, box))) continue;
        return { ...track, block, box, half: LEAST_OFF_PX, fits, feet, from, to, flip, middle, u: null, leader: [tip, end] };
      }
    }
    return null;
  };
  return { HEAD_PX, TAIL_PX, NARROW_PX, LEAST_OFF_PX, ranks, room, place };
})();
