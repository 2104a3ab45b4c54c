// Letters on the drawing that keep their size on the screen: each that finds room in the frame, whole and off all others,
// the most important first. What they say and what they stand for comes with the drawing; how near one looks decides
// how many there are. All places here are in px of the frame, x to the right and y down.
"use strict";
const lettering = (() => {
  const SVG = "http://www.w3.org/2000/svg";
  const { EDGE, HOLE, WORDS, CENTER, ANY, LINE_RATIO, blockBox, at, clear, take, isFree, along, draw } = ground;
  const { HEAD_PX, TAIL_PX, NARROW_PX, LEAST_OFF_PX } = dimensioning;

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
    const runsOf = (wanted) => [...svg.querySelectorAll(wanted)].map(pointsOf);
    const edges = runsOf(":is(.layer-opening, .layer-doubler, .layer-cover, .layer-plug, .layer-rough-cut) path, path.damage, path:is(.flange, .keep-out)[d$='Z']");
    const centers = runsOf("path.row, .layer-keep-out.line-center path");
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
    return { holes, edges, centers, notes, opening: opening && pointsOf(opening)[0], parts: around("close") };
  };

  const make = (name, attributes, parent) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) if (value !== undefined && value !== "") made.setAttribute(key, value);
    parent.append(made);
    return made;
  };
  const fixed = (value) => value.toFixed(1);
  const letter = ({ layer, read: { holes, edges, centers, notes, opening, parts }, toPx, scale, wide, high, marked }) => {
    const size = ground.size_px(), small = size - 1;
    clear(wide, high);
    const lines = document.createElementNS(SVG, "g"), words = document.createElementNS(SVG, "g");
    for (const [all, kind] of [[edges, EDGE], [centers, CENTER]]) for (const run of all.flat()) {
      let before = toPx(run[0]);
      for (let k = 1; k < run.length; k += 1) { const next = toPx(run[k]); draw(before, next, kind); before = next; }
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

    const dimension = (note, base, used) => {
      const found = dimensioning.place(note, { ends: note.span.map(toPx), base, used, opening: opening?.map(toPx), frame: { wide, high } });
      if (!found) return;
      const { side, off, half, line: track, from, to, feet, fits, flip, u, box, leader } = found, long = box[note.isLevel ? 0 : 1];
      used[side] = Math.max(used[side] ?? 0, off + half + APART_PX);
      const start = Math.min(fits ? from : from - TAIL_PX, leader ? Infinity : u + long / 2), end = Math.max(fits ? to : to + TAIL_PX, leader ? -Infinity : u - long / 2);
      const runs = fits ? [[start, end]] : [[start, from], [to, end]];
      for (const [one, other] of runs) { line(flip(one, track), flip(other, track)); draw(flip(one, track), flip(other, track), EDGE); }
      head(flip(from, track), flip(fits ? -1 : 1, 0));
      head(flip(to, track), flip(fits ? 1 : -1, 0));
      for (const end of side === "across" ? [] : feet) {
        const [along_it, foot] = note.isLevel ? end : [end[1], end[0]], out = Math.sign(track - foot) || 1;
        if (Math.abs(track - foot) > 6) line(flip(along_it, foot + 4 * out), flip(along_it, track + 5 * out));
        draw(flip(along_it, foot), flip(along_it, track), EDGE);
      }
      if (leader) { line(...leader); draw(...leader, EDGE); }
      put(note, found.block, found.middle);
    };
    const boxPx = (box) => { const [left, top] = toPx([box.left, box.top]), [right, bottom] = toPx([box.right, box.bottom]); return { left, top, right, bottom }; };
    dimensioning.ranks(notes, true);
    dimensioning.ranks(notes, false);
    const APART_PX = 2;
    const used = { below: LEAST_OFF_PX, above: LEAST_OFF_PX, left: LEAST_OFF_PX, right: LEAST_OFF_PX };
    const dimensions = (isNear) => {
      const those = notes.filter((note) => note.kind === "dimension" && note.isNear === isNear).sort((one, other) => one.off - other.off);
      const feet = those.flatMap((note) => note.span.map(toPx));
      const base = boxPx(parts);
      if (!isNear) { // beyond the bay, and beyond the dimensions near the parts
        base.left = Math.min(base.left - used.left, ...feet.map(([x]) => x));
        base.bottom = Math.max(base.bottom + used.below, ...feet.map(([, y]) => y));
        Object.assign(used, { left: LEAST_OFF_PX, below: LEAST_OFF_PX });
      }
      for (const note of those) dimension(note, base, used);
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
    const GRID_PX = 14, KNEE_PX = 10, MOST_LEADER = 600;
    const callOut = (note, targets, r, variants, { css = "", most = Infinity, off = ANY } = {}) => {
      let best = null, least = most;
      const tried = (target, block, box, knee, side) => {
        const run = knee[0] - target[0], rise = knee[1] - target[1], reach = Math.hypot(run, rise) - r;
        if (reach < 16 || reach + 12 * (block.length - 1) >= least) return;
        const middle = [knee[0] + side * (KNEE_PX + box[0] / 2), knee[1]];
        if (!isFree(at(middle, box), off)) return;
        const x = run / (reach + r), y = rise / (reach + r), tip = [target[0] + x * r, target[1] + y * r];
        let crossed = 0;
        along([tip[0] + 3 * x, tip[1] + 3 * y], knee, (taken) => { crossed += taken & WORDS ? 60 : taken & HOLE ? 12 : taken & EDGE ? 3 : 0; });
        const cost = reach + crossed + 12 * (block.length - 1);
        if (cost < least) { least = cost; best = { block, knee, middle, side, tip, back: [-x, -y] }; }
      };
      const boxes = variants.map((block) => [block, blockBox(block, size, true)]);
      for (const [block, box] of boxes) {
        for (const reach of [22, 34, 50, 70, 95, 125]) {
          for (const target of targets) for (const [x, y] of DIRECTIONS) tried(target, block, box, [target[0] + x * (r + reach), target[1] + y * (r + reach)], x >= 0 ? 1 : -1);
        }
      }
      for (const [block, box] of best ? [] : boxes) { // nothing near: wherever there is room in the frame
        for (let y = box[1] / 2; y < high; y += GRID_PX) {
          for (const target of targets) for (let x = 0; x < wide; x += GRID_PX) tried(target, block, box, [x, y], x >= target[0] ? 1 : -1);
        }
      }
      if (!best) return false;
      const { block, knee, middle, side, tip, back } = best;
      line(tip, knee, css);
      line(knee, [knee[0] + side * 7, knee[1]], css);
      head(tip, back, css);
      draw(tip, knee, EDGE);
      put(note, block, middle, { isBold: true });
      return true;
    };
    const short = (note) => {
      const { place, r } = note.hole ? hasPlace.get(String(note.hole.number)) : { place: toPx(note.span[0]), r: 0.15 * scale };
      if (place[0] < 0 || place[1] < 0 || place[0] > wide || place[1] > high) return;
      const text = note.lines.join(" ");
      callOut(note, [place], r, note.lines.length > 1 ? [note.lines] : text.length < 20 ? [note.lines, broken(text, 10)] : [broken(text, 30), broken(text, 20), broken(text, 14)], { css: "stop", most: wide < NARROW_PX ? wide / 3 : Infinity }); // there a ring says it, and what is tapped says the rest
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
            if (isFree(at(place, box), EDGE | HOLE | WORDS)) { put(note, block, place, { isUpright, at_size: small }); return; }
          }
        }
      }
      if (!note.part?.startsWith("bay.keep_outs")) return;
      const targets = [0, -0.2, 0.2, -0.45, 0.45].map((share) => (isUpright ? [middle[0], middle[1] + share * long] : [middle[0] + share * long, middle[1]]));
      const variants = [broken(text, 34), broken(text, 22), broken(text, 15), broken(text, 11)];
      if (!callOut(note, targets, 0, variants, { most: MOST_LEADER })) callOut(note, targets, 0, variants, { most: MOST_LEADER, off: HOLE | WORDS }); // rather over an edge than not told
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
    const GAPS_PX = [2, 7], MARKED_GAPS_PX = [2, 7, 14, 22, 32, 44, 60]; // one that is asked for is shown, if with a leader
    const numberPlace = (note, isMarked, kinds = ANY) => {
      const { place: [x, y], r } = hasPlace.get(String(note.hole.number)), [w, h] = blockBox(note.lines, small);
      for (const gap of isMarked ? MARKED_GAPS_PX : GAPS_PX) {
        for (const [dx, dy] of [[1, 0], [-1, 0], [0, -1], [0, 1], [0.75, -0.75], [-0.75, -0.75], [0.75, 0.75], [-0.75, 0.75]]) {
          const place = [x + dx * (r + gap + w / 2), y + dy * (r + gap + h / 2 - 2)];
          if (isFree(at(place, [w, h - 3]), kinds)) return { place, leader: gap > GAPS_PX[1] ? [[x + dx * r, y + dy * r], [x + dx * (r + gap), y + dy * (r + gap - 2)]] : null };
        }
      }
      return isMarked && kinds & HOLE ? numberPlace(note, true, ANY & ~HOLE) : null;
    };
    const numbers = (wanted, share = 0) => {
      const here = wanted.filter(({ hole }) => { const [x, y] = hasPlace.get(String(hole.number)).place; return x > 0 && y > 0 && x < wide && y < high; });
      const before = ground.kept(), found = [];
      for (const note of here) {
        const one = numberPlace(note, marked(note));
        if (!one) continue;
        take(at(one.place, blockBox(note.lines, small)), WORDS);
        found.push({ note, ...one });
      }
      if (found.length < share * here.length) { ground.putBack(before); return false; }
      for (const { note, place, leader } of found) {
        if (leader) line(...leader);
        put(note, note.lines, place, { at_size: small, isBold: marked(note), hasGround: marked(note) });
      }
      return true;
    };

    const of = (kind) => notes.filter((note) => note.kind === kind);
    const isHazard = (note) => note.part?.startsWith("bay.keep_outs");
    const all = of("number").filter((note) => note.hole);
    dimensions(true);
    numbers(all.filter(marked));
    of("name").filter(isHazard).forEach(name); // few, and what cuts into one can not be mended
    of("short").forEach(short);
    of("name").filter((note) => !isHazard(note)).forEach(name);
    for (const note of of("fixed")) {
      const [w, h] = blockBox(note.lines, small, true), [x, y] = toPx(note.at), shift = { start: 0.5, middle: 0, end: -0.5 }[note.anchor];
      const place = [x + shift * w, y - 0.3 * small];
      if (isFree(at(place, [w, h]), HOLE | WORDS)) put(note, note.lines, place, { isBold: true, at_size: small });
    }
    numbers(all.filter((note) => note.hole.isShort && !marked(note) && !of("short").some((one) => one.hole === note.hole)));
    const rest = all.filter((note) => !marked(note) && !note.hole.isShort);
    const hasFew = numbers(rest.filter((note) => note.isEnd || note.isTen), 0.6);
    of("size").forEach(sizes);
    const hasSome = hasFew && numbers(rest.filter((note) => note.isRound && !note.isTen && !note.isEnd), 0.7);
    if (hasSome) numbers(rest.filter((note) => !note.isRound && !note.isEnd), 0.8);
    dimensions(false);
    layer.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    layer.replaceChildren(lines, words);
  };
  return { read, letter };
})();
