// Letters on the drawing that keep their size on the screen: each that finds room in the frame, whole and off all others,
// the most important first. What they say and what they stand for comes with the drawing; how near one looks decides
// how many there are. All places here are in px of the frame, x to the right and y down.
"use strict";
const lettering = (() => {
  const SVG = "http://www.w3.org/2000/svg", FAMILY = "\"Liberation Sans\", Arial, Helvetica, sans-serif";
  const DESK_PX = 13, HAND_PX = 15, WIDE_PX = 1100; // tablets and phones are read from farther off
  const CELL_PX = 3, CLEAR_PX = 2, LINE_RATIO = 1.25, HEAD_PX = 9, FRAME_PX = 3;
  const EDGE = 1, HOLE = 2, WORDS = 4, ANY = 7;
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

  // What is taken in the frame, in small cells: edges, holes, and words
  const ground = { wide: 0, high: 0, across: 0, cells: new Uint8Array(0) };
  const clear = (wide, high) => {
    const across = Math.ceil(wide / CELL_PX) + 1, up = Math.ceil(high / CELL_PX) + 1;
    if (ground.cells.length === across * up) ground.cells.fill(0); else ground.cells = new Uint8Array(across * up);
    Object.assign(ground, { wide, high, across });
  };
  const inFrame = ({ left, top, right, bottom }) => left >= FRAME_PX && top >= FRAME_PX && right <= ground.wide - FRAME_PX && bottom <= ground.high - FRAME_PX;
  const overCells = ({ left, top, right, bottom }, visit) => {
    const x0 = Math.max(Math.floor(left / CELL_PX), 0), x1 = Math.min(Math.floor(right / CELL_PX), ground.across - 1);
    const y0 = Math.max(Math.floor(top / CELL_PX), 0), y1 = Math.min(Math.floor(bottom / CELL_PX), ground.cells.length / ground.across - 1);
    for (let y = y0; y <= y1; y += 1) for (let x = x0; x <= x1; x += 1) if (visit(y * ground.across + x)) return true;
    return false;
  };
  const grown = ({ left, top, right, bottom }, by) => ({ left: left - by, top: top - by, right: right + by, bottom: bottom + by });
  const isTaken = (box, kinds) => overCells(box, (cell) => ground.cells[cell] & kinds);
  const take = (box, kind) => overCells(grown(box, CLEAR_PX), (cell) => { ground.cells[cell] |= kind; return false; });
  const isFree = (box, kinds = ANY) => inFrame(box) && !isTaken(box, kinds);
  const along = ([x0, y0], [x1, y1], visit) => {
    const steps = Math.ceil(Math.hypot(x1 - x0, y1 - y0) / CELL_PX);
    for (let k = 0; k <= steps; k += 1) {
      const x = x0 + (x1 - x0) * k / Math.max(steps, 1), y = y0 + (y1 - y0) * k / Math.max(steps, 1);
      if (x >= 0 && y >= 0 && x < ground.wide && y < ground.high) visit(Math.floor(y / CELL_PX) * ground.across + Math.floor(x / CELL_PX));
    }
  };
  const clipped = ([x0, y0], [x1, y1]) => { // the piece of a line near the frame, or long lines take long to follow
    let from = 0, to = 1;
    for (const [a, b, most] of [[x0, x1, ground.wide], [y0, y1, ground.high]]) {
      if (a === b) { if (a < 0 || a > most) return null; continue; }
      const [near, far] = [-a / (b - a), (most - a) / (b - a)].sort((one, other) => one - other);
      from = Math.max(from, near);
      to = Math.min(to, far);
    }
    return from < to ? [[x0 + from * (x1 - x0), y0 + from * (y1 - y0)], [x0 + to * (x1 - x0), y0 + to * (y1 - y0)]] : null;
  };
  const draw = (from, to, kind) => {
    const piece = clipped(from, to);
    if (piece) along(...piece, (cell) => { ground.cells[cell] |= kind; });
  };

  // What the drawing says, read once each time that it comes
  const points = (text) => { const n = text.split(" ").map(Number); return [[n[0], n[1]], [n[2], n[3]]]; };
  const read = (svg, pointsOf) => {
    const holes = new Map(), ends = new Map();
    for (const circle of svg.querySelectorAll("circle[data-hole]")) {
      const { hole, part } = circle.dataset, isRing = circle.classList.contains("ring"), r = Number(circle.getAttribute("r"));
      const one = holes.get(hole) ?? { number: Number(hole), at: [Number(circle.getAttribute("cx")), Number(circle.getAttribute("cy"))], r: 0, isShort: false };
      holes.set(hole, { ...one, r: Math.max(one.r, r), isShort: one.isShort || isRing });
      const [low, high] = ends.get(part) ?? [Infinity, -Infinity];
      ends.set(part, [Math.min(low, one.number), Math.max(high, one.number)]);
    }
    const isEnd = new Set([...ends.values()].flat());
    const edges = [...svg.querySelectorAll(":is(.layer-opening, .layer-doubler, .layer-cover, .layer-plug, .layer-rough-cut) path, .damage, path.flange[d$='Z']")].filter((line) => line.tagName === "path").map(pointsOf);
    const opening = svg.querySelector(".opening-edge");
    const notes = [];
    for (const text of svg.querySelectorAll("text")) {
      const { note, span, whole, part } = text.dataset, css = text.classList, words = whole || text.textContent;
      const before = notes.at(-1);
      const kind = css.contains("hole-number") ? "number" : css.contains("short") ? "short" : css.contains("dimension") ? "dimension"
        : css.contains("name") ? "name" : css.contains("size") ? "size" : "fixed";
      if (kind === "short" && before?.kind === "short" && before.note === note && !span) { before.lines.push(words); continue; }
      if (kind === "size" && before?.kind === "size") { before.lines.push(words); continue; }
      const one = { kind, lines: [words], note, part, span: span && points(span), hole: note?.startsWith("hole-") ? holes.get(note.slice(5)) : null };
      if (kind === "fixed") Object.assign(one, { at: [Number(text.getAttribute("x")), Number(text.getAttribute("y"))], anchor: text.getAttribute("text-anchor") || "start" });
      if (kind === "dimension") Object.assign(one, { isLevel: css.contains("along-x"), isNear: css.contains("near"), isMade: /\s/.test(words) });
      if (kind === "number") Object.assign(one, { isEnd: isEnd.has(one.hole?.number), isRound: one.hole?.number % 5 === 0, isTen: one.hole?.number % 10 === 0 });
      notes.push(one);
    }
    const around = (name) => { const n = svg.dataset[name].split(" ").map(Number); return { left: n[0], top: n[1], right: n[0] + n[2], bottom: n[1] + n[3] }; };
    return { holes, edges, notes, opening: opening && pointsOf(opening)[0], parts: around("close") };
  };

  // Dimensions stand in ranks below and to the left, the longest outermost; how much room they need there
  const ranks = (notes, isNear) => {
    const size = size_px(), found = { below: [], left: [] };
    for (const note of notes) {
      if (note.kind !== "dimension" || note.isNear !== isNear) continue;
      const axis = note.isLevel ? 0 : 1;
      (note.isLevel ? found.below : found.left).push([Math.abs(note.span[1][axis] - note.span[0][axis]), note]);
    }
    for (const rank of [found.below, found.left]) rank.sort(([one], [other]) => one - other);
    const words = (note) => (note.isLevel || !note.isMade ? note.lines : [note.lines[0].replace(/\s.*/, ""), note.lines[0].replace(/^\S+\s/, "")]);
    let below = 0.9 * size, left = 0.7 * size;
    for (const [, note] of found.below) { note.off = below + 0.6 * size; below += 1.75 * size; }
    for (const [, note] of found.left) {
      note.words = words(note);
      const wide = Math.max(...note.words.map((line) => widthOf(line, size)));
      note.off = left + wide / 2 + 3;
      left += wide + 14;
    }
    return { below: found.below.length ? below + 0.5 * size : 0, left: found.left.length ? left + 2 : 0 };
  };
  const MOST_SHARE = 0.25;
  const room = (read, name, { wide, high }) => {
    const rim = 8;
    if (name === "close") { const { below, left } = ranks(read.notes, true); return { left, bottom: below, right: rim, top: rim }; }
    const { below, left } = ranks(read.notes, false); // where they would push the bay aside, they wait until one comes nearer
    return { left: left < MOST_SHARE * wide ? left : rim, bottom: below < MOST_SHARE * high ? below : rim, right: rim, top: rim };
  };

  const make = (name, attributes, parent) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) if (value !== undefined && value !== "") made.setAttribute(key, value);
    parent.append(made);
    return made;
  };
  const fixed = (value) => value.toFixed(1);
  const blockBox = (lines, size, isBold, isUpright) => {
    const along_px = Math.max(...lines.map((line) => widthOf(line, size, isBold))), across_px = size * LINE_RATIO * lines.length;
    return isUpright ? [across_px, along_px] : [along_px, across_px];
  };
  const at = ([x, y], [wide, high]) => ({ left: x - wide / 2, top: y - high / 2, right: x + wide / 2, bottom: y + high / 2 });

  const letter = ({ layer, read: { holes, edges, notes, opening, parts }, toPx, scale, wide, high, marked }) => {
    const size = size_px(), small = size - 1;
    clear(wide, high);
    const lines = document.createElementNS(SVG, "g"), words = document.createElementNS(SVG, "g");
    for (const runs of edges) for (const run of runs) {
      let before = toPx(run[0]);
      for (let k = 1; k < run.length; k += 1) { const next = toPx(run[k]); draw(before, next, EDGE); before = next; }
    }
    const hasPlace = new Map();
    for (const [number, hole] of holes) {
      const place = toPx(hole.at), r = Math.max(hole.r * scale, 2.5);
      hasPlace.set(number, { place, r });
      take(at(place, [2 * r, 2 * r]), HOLE);
    }

    const put = (note, block, place, { isUpright = false, isBold = false, hasGround = true, at_size = size } = {}) => {
      const [x, y] = place, box = at(place, blockBox(block, at_size, isBold, isUpright));
      take(box, WORDS);
      const css = [note.kind, note.kind === "short" ? "stop" : "", marked(note) ? "marked" : ""].filter(Boolean).join(" ");
      const group = make("g", { class: css, "data-note": note.note, "data-part": note.part, transform: isUpright ? `rotate(-90 ${fixed(x)} ${fixed(y)})` : "" }, words);
      if (hasGround) {
        const [w, h] = blockBox(block, at_size, isBold, false);
        make("rect", { x: fixed(x - w / 2 - 2), y: fixed(y - h / 2), width: fixed(w + 4), height: fixed(h) }, group);
      }
      block.forEach((line, k) => {
        const up = y + (k - (block.length - 1) / 2) * at_size * LINE_RATIO + at_size * 0.36;
        make("text", { x: fixed(x), y: fixed(up), "font-size": at_size, "text-anchor": "middle", "font-weight": isBold ? "bold" : "" }, group).textContent = line;
      });
    };
    const line = (from, to, css = "") => {
      make("path", { d: `M${fixed(from[0])} ${fixed(from[1])}L${fixed(to[0])} ${fixed(to[1])}`, class: css }, lines);
    };
    const head = ([x, y], [dx, dy], css = "") => {
      const length = Math.hypot(dx, dy), ux = dx / length, uy = dy / length, bx = x - ux * HEAD_PX, by = y - uy * HEAD_PX, half = HEAD_PX / 6;
      make("path", { d: `M${fixed(x)} ${fixed(y)}L${fixed(bx - uy * half)} ${fixed(by + ux * half)}L${fixed(bx + uy * half)} ${fixed(by - ux * half)}Z`, class: `head ${css}`.trim() }, lines);
    };

    // A dimension is shown with both its ends, its lines and its whole figure, or not at all
    const dimension = (note, base) => {
      const [one, other] = note.span.map(toPx), axis = note.isLevel ? 0 : 1, block = note.words ?? note.lines;
      const [low, high_] = [one, other].sort((a, b) => a[axis] - b[axis]);
      const flip = (u, v) => (note.isLevel ? [u, v] : [v, u]);
      const at_line = note.isLevel ? base.bottom + note.off : base.left - note.off;
      const from = low[axis], to = high_[axis], most = note.isLevel ? wide : high, box = blockBox(block, size), long = note.isLevel ? box[0] : box[1];
      if (from < FRAME_PX || to > most - FRAME_PX) return;
      const fits = to - from >= long + 2 * HEAD_PX + 6, tail = 2 * HEAD_PX;
      const free = Math.max(to - from - long - 2 * HEAD_PX - 6, 0) / 2; // how far the figure may stand off the middle
      const middles = fits ? [0, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75].map((share) => (from + to) / 2 + share * free)
        : [to + tail + 4 + long / 2, from - tail - 4 - long / 2];
      const isFreeAt = (u, kinds) => isFree(at(flip(u, at_line), box), kinds);
      const middle = middles.find((u) => isFreeAt(u, ANY)) ?? middles.find((u) => isFreeAt(u, WORDS | HOLE)); // off the edges of the structure too
      if (middle === undefined) return;
      if (fits) { line(flip(from, at_line), flip(to, at_line)); } else {
        line(flip(from - tail, at_line), flip(from, at_line));
        line(flip(to, at_line), flip(to + tail, at_line));
      }
      head(flip(from, at_line), flip(fits ? -1 : 1, 0));
      head(flip(to, at_line), flip(fits ? 1 : -1, 0));
      for (const end of [low, high_]) {
        const foot = end[1 - axis], out = Math.sign(at_line - foot) || 1;
        if (Math.abs(at_line - foot) > 6) line(flip(end[axis], foot + 4 * out), flip(end[axis], at_line + 5 * out));
        draw(flip(end[axis], foot), flip(end[axis], at_line), EDGE);
      }
      draw(flip(from, at_line), flip(to, at_line), EDGE);
      put(note, block, flip(middle, at_line));
    };
    const boxPx = (box) => { const [left, top] = toPx([box.left, box.top]), [right, bottom] = toPx([box.right, box.bottom]); return { left, top, right, bottom }; };
    const near = ranks(notes, true);
    ranks(notes, false);
    const dimensions = (isNear) => {
      const those = notes.filter((note) => note.kind === "dimension" && note.isNear === isNear);
      const feet = those.flatMap((note) => note.span.map(toPx));
      const base = boxPx(parts);
      if (!isNear) { // beyond the bay, and beyond the dimensions near the parts
        base.left = Math.min(base.left - near.left, ...feet.map(([x]) => x));
        base.bottom = Math.max(base.bottom + near.below, ...feet.map(([, y]) => y));
      }
      for (const note of those) dimension(note, base);
    };

    // Words with a leader: as near to their place as there is room, rather over lines than over holes
    const broken = (text, most) => {
      const found = [];
      for (const word of text.split(" ")) {
        const last = found.at(-1);
        if (last !== undefined && `${last} ${word}`.length <= most) found[found.length - 1] = `${last} ${word}`; else found.push(word);
      }
      return found;
    };
    const DIRECTIONS = Array.from({ length: 16 }, (_, k) => [Math.cos(k * Math.PI / 8), Math.sin(k * Math.PI / 8)]);
    const NARROW_PX = 520; // there a ring says it, and what is tapped says the rest: long leaders would cover the part
    const GRID_PX = 14, KNEE_PX = 10, MOST_LEADER = 340, ON_EDGE = 90;
    const callOut = (note, targets, r, variants, css, most = Infinity) => {
      let best = null, least = most;
      const tried = (target, block, box, knee, side) => {
        const run = knee[0] - target[0], rise = knee[1] - target[1], reach = Math.hypot(run, rise) - r;
        if (reach < 16 || reach + 12 * (block.length - 1) >= least) return;
        const middle = [knee[0] + side * (KNEE_PX + box[0] / 2), knee[1]];
        if (!isFree(at(middle, box), HOLE | WORDS)) return;
        const x = run / (reach + r), y = rise / (reach + r), tip = [target[0] + x * r, target[1] + y * r];
        let crossed = isTaken(at(middle, box), EDGE) ? ON_EDGE : 0; // rather over an edge than far from its place
        along([tip[0] + 3 * x, tip[1] + 3 * y], knee, (cell) => { crossed += ground.cells[cell] & WORDS ? 60 : ground.cells[cell] & HOLE ? 12 : ground.cells[cell] & EDGE ? 3 : 0; });
        const cost = reach + crossed + 12 * (block.length - 1);
        if (cost < least) { least = cost; best = { block, knee, middle, side, tip, back: [-x, -y] }; }
      };
      const boxes = variants.map((block) => [block, blockBox(block, size, true)]);
      for (const [block, box] of boxes) {
        for (const reach of [22, 34, 50, 70, 95]) {
          for (const target of targets) for (const [x, y] of DIRECTIONS) tried(target, block, box, [target[0] + x * (r + reach), target[1] + y * (r + reach)], x >= 0 ? 1 : -1);
        }
      }
      for (const [block, box] of best ? [] : boxes) { // nothing near: wherever there is room in the frame
        for (let y = box[1] / 2; y < high; y += GRID_PX) {
          for (const target of targets) for (let x = 0; x < wide; x += GRID_PX) tried(target, block, box, [x, y], x >= target[0] ? 1 : -1);
        }
      }
      if (!best) return;
      const { block, knee, middle, side, tip, back } = best;
      line(tip, knee, css);
      line(knee, [knee[0] + side * 7, knee[1]], css);
      head(tip, back, css);
      draw(tip, knee, EDGE);
      put(note, block, middle, { isBold: true });
    };
    const short = (note) => {
      const { place, r } = note.hole ? hasPlace.get(String(note.hole.number)) : { place: toPx(note.span[0]), r: 0.15 * scale };
      if (place[0] < 0 || place[1] < 0 || place[0] > wide || place[1] > high) return;
      const text = note.lines.join(" ");
      callOut(note, [place], r, note.lines.length > 1 || text.length < 20 ? [note.lines] : [broken(text, 30), broken(text, 20), broken(text, 14)], "stop", wide < NARROW_PX ? wide / 3 : Infinity);
    };

    // Names along what they name, in the middle of what is seen of it, or beside it with a leader
    const name = (note) => {
      const [one, other] = note.span.map(toPx);
      const seen = { left: Math.max(Math.min(one[0], other[0]), 0), right: Math.min(Math.max(one[0], other[0]), wide), top: Math.max(Math.min(one[1], other[1]), 0), bottom: Math.min(Math.max(one[1], other[1]), high) };
      if (seen.left > seen.right || seen.top > seen.bottom) return;
      const isUpright = Math.abs(other[1] - one[1]) > Math.abs(other[0] - one[0]), middle = [(seen.left + seen.right) / 2, (seen.top + seen.bottom) / 2];
      const long = isUpright ? seen.bottom - seen.top : seen.right - seen.left, thick = isUpright ? seen.right - seen.left : seen.bottom - seen.top;
      const text = note.lines[0];
      for (const block of [[text], broken(text, 34), broken(text, 22)]) {
        const box = blockBox(block, small, false, isUpright);
        const across = isUpright ? box[0] : box[1], reach = long - (isUpright ? box[1] : box[0]);
        if (reach < 8) continue;
        for (const side of [0, 1, -1]) {
          if (side && thick > across) continue;
          const off = side * (thick / 2 + across / 2 + 2);
          for (const share of [0, -0.25, 0.25, -0.48, 0.48, -0.36, 0.36, -0.12, 0.12]) {
            const place = isUpright ? [middle[0] + off, middle[1] + share * reach] : [middle[0] + share * reach, middle[1] + off];
            if (isFree(at(place, box))) { put(note, block, place, { isUpright, at_size: small }); return; }
          }
        }
      }
      if (!note.part?.startsWith("bay.keep_outs")) return;
      const targets = [0, -0.2, 0.2, -0.45, 0.45].map((share) => (isUpright ? [middle[0], middle[1] + share * long] : [middle[0] + share * long, middle[1]]));
      callOut(note, targets, 0, [broken(text, 34), broken(text, 22), broken(text, 15)], "", MOST_LEADER);
    };

    const sizes = (note) => {
      if (!opening) return;
      const inside = opening.map(toPx), x = inside.map((one) => one[0]), y = inside.map((one) => one[1]);
      const middle = [(Math.min(...x) + Math.max(...x)) / 2, (Math.min(...y) + Math.max(...y)) / 2], up = (Math.max(...y) - Math.min(...y)) / 2;
      for (let count = note.lines.length; count; count -= 1) {
        const block = note.lines.slice(-count), box = blockBox(block, small);
        for (const share of [-0.35, 0.35, -0.55, 0.55, -0.2, 0.2, 0]) {
          const place = [middle[0], middle[1] + share * up];
          if (isFree(at(place, box))) { put(note, block, place, { at_size: small, hasGround: false }); return; }
        }
      }
    };

    // Numbers beside their holes; a kind of which many find no room is left out, so that what stands is no accident
    const numberPlace = (note, kinds) => {
      const { place: [x, y], r } = hasPlace.get(String(note.hole.number)), [w, h] = blockBox(note.lines, small);
      for (const gap of [2, 7]) {
        for (const [dx, dy] of [[1, 0], [-1, 0], [0, -1], [0, 1], [0.75, -0.75], [-0.75, -0.75], [0.75, 0.75], [-0.75, 0.75]]) {
          const place = [x + dx * (r + gap + w / 2), y + dy * (r + gap + h / 2 - 2)];
          if (isFree(at(place, [w, h - 3]), kinds)) return place;
        }
      }
      return null;
    };
    const numbers = (wanted, { share = 0, kinds = ANY } = {}) => {
      const here = wanted.filter(({ hole }) => { const [x, y] = hasPlace.get(String(hole.number)).place; return x > 0 && y > 0 && x < wide && y < high; });
      const before = ground.cells.slice(), found = [];
      for (const note of here) {
        const place = numberPlace(note, kinds);
        if (!place) continue;
        take(at(place, blockBox(note.lines, small)), WORDS);
        found.push([note, place]);
      }
      if (found.length < share * here.length) { ground.cells.set(before); return false; }
      for (const [note, place] of found) put(note, note.lines, place, { at_size: small, isBold: marked(note), hasGround: marked(note) });
      return true;
    };

    const of = (kind) => notes.filter((note) => note.kind === kind);
    const isHazard = (note) => note.part?.startsWith("bay.keep_outs");
    const all = of("number").filter((note) => note.hole);
    dimensions(true);
    numbers(all.filter(marked), { kinds: WORDS });
    of("short").forEach(short);
    of("name").filter(isHazard).forEach(name);
    of("name").filter((note) => !isHazard(note)).forEach(name);
    for (const note of of("fixed")) {
      const [w, h] = blockBox(note.lines, small, true), [x, y] = toPx(note.at), shift = { start: 0.5, middle: 0, end: -0.5 }[note.anchor];
      const place = [x + shift * w, y - 0.3 * small];
      if (isFree(at(place, [w, h]), HOLE | WORDS)) put(note, note.lines, place, { isBold: true, at_size: small });
    }
    numbers(all.filter((note) => note.hole.isShort && !marked(note) && !of("short").some((one) => one.hole === note.hole)));
    const rest = all.filter((note) => !marked(note) && !note.hole.isShort);
    const hasFew = numbers(rest.filter((note) => note.isEnd || note.isTen), { share: 0.6 });
    of("size").forEach(sizes);
    const hasSome = hasFew && numbers(rest.filter((note) => note.isRound && !note.isTen && !note.isEnd), { share: 0.7 });
    if (hasSome) numbers(rest.filter((note) => !note.isRound && !note.isEnd), { share: 0.8 });
    dimensions(false);
    layer.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    layer.replaceChildren(lines, words);
  };
  return { read, room, letter };
})();
