// What is taken in the frame of the drawing, in small cells, and how much room words need there. All places are in px
// of the frame, x to the right and y down.
"use strict";
const ground = (() => {
  const FAMILY = "\"Liberation Sans\", Arial, Helvetica, sans-serif";
  const DESK_PX = 13, HAND_PX = 15, WIDE_PX = 1100; // tablets and phones are read from farther off
  const CELL_PX = 3, CLEAR_PX = 2, LINE_RATIO = 1.25, FRAME_PX = 3;
  const EDGE = 1, HOLE = 2, WORDS = 4, CENTER = 8, ANY = 15; // a name may stand in its own center line, a figure in none
  const coarse = matchMedia("(pointer: coarse)");
  const size_px = () => (coarse.matches || innerWidth < WIDE_PX ? HAND_PX : DESK_PX);

  // Widths of words in the font of the drawing, by size and weight
  const pen = document.createElement("canvas").getContext("2d");
  const widths = new Map();
  const widthOf = (words, size, isBold) => {
    const key = `${isBold ? "bold " : ""}${size}px ${words}`;
    if (!widths.has(key)) {
      if (widths.size > 5000) widths.clear();
      pen.font = `${isBold ? "bold " : ""}${size}px ${FAMILY}`;
      widths.set(key, pen.measureText(words).width);
    }
    return widths.get(key);
  };
  const blockBox = (lines, size, isBold, isUpright) => {
    const along_px = Math.max(...lines.map((line) => widthOf(line, size, isBold))), across_px = size * LINE_RATIO * lines.length;
    return isUpright ? [across_px, along_px] : [along_px, across_px];
  };
  const at = ([x, y], [wide, high]) => ({ left: x - wide / 2, top: y - high / 2, right: x + wide / 2, bottom: y + high / 2 });

  const frame = { wide: 0, high: 0, across: 0, cells: new Uint8Array(0) };
  const clear = (wide, high) => {
    const across = Math.ceil(wide / CELL_PX) + 1, up = Math.ceil(high / CELL_PX) + 1;
    if (frame.cells.length === across * up) frame.cells.fill(0); else frame.cells = new Uint8Array(across * up);
    Object.assign(frame, { wide, high, across });
  };
  const inFrame = ({ left, top, right, bottom }) => left >= FRAME_PX && top >= FRAME_PX && right <= frame.wide - FRAME_PX && bottom <= frame.high - FRAME_PX;
  const overCells = ({ left, top, right, bottom }, visit) => {
    const x0 = Math.max(Math.floor(left / CELL_PX), 0), x1 = Math.min(Math.floor(right / CELL_PX), frame.across - 1);
    const y0 = Math.max(Math.floor(top / CELL_PX), 0), y1 = Math.min(Math.floor(bottom / CELL_PX), frame.cells.length / frame.across - 1);
    for (let y = y0; y <= y1; y += 1) for (let x = x0; x <= x1; x += 1) if (visit(y * frame.across + x)) return true;
    return false;
  };
  const grown = ({ left, top, right, bottom }, by) => ({ left: left - by, top: top - by, right: right + by, bottom: bottom + by });
  const isTaken = (box, kinds) => overCells(box, (cell) => frame.cells[cell] & kinds);
  const take = (box, kind) => overCells(grown(box, CLEAR_PX), (cell) => { frame.cells[cell] |= kind; return false; });
  const isFree = (box, kinds = ANY) => inFrame(box) && !isTaken(box, kinds);
  const along = ([x0, y0], [x1, y1], visit) => { // told of each cell: what is taken in it
    const steps = Math.ceil(Math.hypot(x1 - x0, y1 - y0) / CELL_PX);
    for (let k = 0; k <= steps; k += 1) {
      const x = x0 + (x1 - x0) * k / Math.max(steps, 1), y = y0 + (y1 - y0) * k / Math.max(steps, 1);
      if (x < 0 || y < 0 || x >= frame.wide || y >= frame.high) continue;
      const cell = Math.floor(y / CELL_PX) * frame.across + Math.floor(x / CELL_PX);
      visit(frame.cells[cell], cell);
    }
  };
  const clipped = ([x0, y0], [x1, y1]) => { // the piece of a line near the frame, or long lines take long to follow
    let from = 0, to = 1;
    for (const [a, b, most] of [[x0, x1, frame.wide], [y0, y1, frame.high]]) {
      if (a === b) { if (a < 0 || a > most) return null; continue; }
      const [near, far] = [-a / (b - a), (most - a) / (b - a)].sort((one, other) => one - other);
      from = Math.max(from, near);
      to = Math.min(to, far);
    }
    return from < to ? [[x0 + from * (x1 - x0), y0 + from * (y1 - y0)], [x0 + to * (x1 - x0), y0 + to * (y1 - y0)]] : null;
  };
  const draw = (from, to, kind) => {
    const piece = clipped(from, to);
    if (piece) along(...piece, (_, cell) => { frame.cells[cell] |= kind; });
  };
  const kept = () => frame.cells.slice();
  const putBack = (cells) => frame.cells.set(cells);
  return { EDGE, HOLE, WORDS, CENTER, ANY, CELL_PX, FRAME_PX, LINE_RATIO, size_px, widthOf, blockBox, at, clear, take, isFree, isTaken, along, draw, kept, putBack };
})();
