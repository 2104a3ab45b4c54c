// The view of the drawing: which piece of it is seen, how a hand moves it, and what is tapped in it. It belongs to the
// page and outlives every redraw. Places are in inches of the drawing, x to the right and y down, unless called px.
"use strict";
(() => {
  const answer = document.getElementById("answer");
  if (!answer) return;
  const HOLE_REACH_PX = 30, LINE_REACH_PX = 16, ON_LINE_PX = 5, ON_HOLE_PX = 14, STILL_PX = 5, TWICE_MS = 350;
  const MOST_PX_PER_IN = 1200, STEP = 1.5, MARGIN_PX = 6, RIM_PX = 24;
  const board = () => answer.querySelector(".board");
  const drawing = () => answer.querySelector(".sheet svg");
  const numbers = (text) => text.split(" ").map(Number);

  // What is seen: the middle of the frame and the scale; a named view fits itself to its room until a hand moves it
  const view = { x: 0, y: 0, scale: 1, named: "close" };
  const room = { wide: 0, high: 0 };
  const boxOf = (name) => {
    const [x, y, wide, high] = numbers(drawing().dataset[name]);
    return { left: x, top: y, right: x + wide, bottom: y + high };
  };
  const MARGINS = { left: MARGIN_PX, top: MARGIN_PX, right: MARGIN_PX, bottom: MARGIN_PX };
  const scaleFor = (box, margins = MARGINS) => Math.min(
    (room.wide - margins.left - margins.right) / (box.right - box.left),
    (room.high - margins.top - margins.bottom) / (box.bottom - box.top), MOST_PX_PER_IN,
  );
  const lookAt = (box, scale = scaleFor(box), margins = MARGINS) => {
    const x = (box.left + box.right) / 2 + (margins.right - margins.left) / 2 / scale;
    const y = (box.top + box.bottom) / 2 + (margins.bottom - margins.top) / 2 / scale;
    Object.assign(view, { x, y, scale });
  };
  let told = null; // what the drawing says, read anew when it comes
  const seen = () => {
    const across = room.wide / view.scale, up = room.high / view.scale;
    return { left: view.x - across / 2, top: view.y - up / 2, right: view.x + across / 2, bottom: view.y + up / 2 };
  };
  const holds = (outer, inner) => outer.left <= inner.left && outer.top <= inner.top && outer.right >= inner.right && outer.bottom >= inner.bottom;
  const show = () => {
    const svg = drawing();
    if (!svg || !room.wide || !room.high) return;
    if (view.named) {
      const box = boxOf(view.named), margins = dimensioning.room(told.notes, view.named, room);
      lookAt(box, scaleFor(box, margins), margins);
    }
    const { left, top, right, bottom } = seen();
    svg.setAttribute("viewBox", [left, top, right - left, bottom - top].map((one) => one.toFixed(5)).join(" "));
    board().classList.add("is-lettered");
    board().classList.toggle("is-close", !holds(seen(), boxOf("close")));
    lettering.letter({
      layer: board().querySelector(".lettering"), read: told, scale: view.scale, ...room,
      toPx: ([x, y]) => [(x - left) * view.scale, (y - top) * view.scale],
      marked: ({ note }) => Boolean(note) && marks.has(note),
    });
  };
  let measured = null;
  const watch = new ResizeObserver(() => { measure(); show(); });
  const measure = () => {
    const here = board();
    if (here !== measured) { watch.disconnect(); watch.observe(here); measured = here; }
    const { width, height } = here.getBoundingClientRect(); // to the fraction of a px, or letters would shrink by it
    Object.assign(room, { wide: width, high: height });
  };
  const marks = new Set(); // notes of what the page has marked in the drawing
  const readMarks = () => {
    const before = [...marks].join(" ");
    marks.clear();
    for (const one of drawing()?.querySelectorAll("text.marked[data-note]") ?? []) marks.add(one.dataset.note);
    return before !== [...marks].join(" ");
  };
  const refit = () => {
    measure();
    told = drawing() && lettering.read(drawing(), pointsOf);
    readMarks();
    show();
  };
  new MutationObserver(() => { if (told && readMarks()) show(); }).observe(answer, { subtree: true, attributes: true, attributeFilter: ["class"] });
  const moved = (x_px, y_px) => {
    view.named = "";
    const whole = boxOf("whole");
    view.x = Math.min(Math.max(view.x - x_px / view.scale, whole.left), whole.right);
    view.y = Math.min(Math.max(view.y - y_px / view.scale, whole.top), whole.bottom);
    show();
  };
  const middle_px = () => ({ x: room.wide / 2, y: room.high / 2 });
  const zoomed = (factor, { x, y } = middle_px()) => {
    const least = Math.min(scaleFor(boxOf("whole")), scaleFor(boxOf("close"))) * 0.8;
    const scale = Math.min(Math.max(view.scale * factor, least), MOST_PX_PER_IN);
    view.named = "";
    view.x += (x - room.wide / 2) * (1 / view.scale - 1 / scale);
    view.y += (y - room.high / 2) * (1 / view.scale - 1 / scale);
    view.scale = scale;
    moved(0, 0);
  };
  const named = (name) => { view.named = name; show(); };

  // What a finding or an entry speaks of is brought into the frame, where it is not seen whole
  const bring = (parts) => {
    const boxes = parts.map((part) => part.getBBox()).filter(({ width, height }) => width || height);
    if (!boxes.length) return;
    const box = {
      left: Math.min(...boxes.map((one) => one.x)), right: Math.max(...boxes.map((one) => one.x + one.width)),
      top: Math.min(...boxes.map((one) => one.y)), bottom: Math.max(...boxes.map((one) => one.y + one.height)),
    };
    const { left, top, right, bottom } = seen(), rim = RIM_PX / view.scale;
    if (holds({ left: left + rim, top: top + rim, right: right - rim, bottom: bottom - rim }, box)) return;
    lookAt(box, Math.min(view.scale, scaleFor(box)));
    view.named = "";
    show();
  };
  window.sheet = {
    refit,
    showHoles: (wanted) => bring(wanted.flatMap((one) => [...drawing().querySelectorAll(`[data-hole="${CSS.escape(one)}"]`)])),
    showPart: (path) => {
      const name = CSS.escape(path);
      bring([...drawing().querySelectorAll(`:is(path, circle):is([data-part="${name}"], [data-part^="${name}."])`)]);
    },
  };

  // Lines of the drawing as points close together, kept as long as a line stays the same
  const known = new Map();
  const pointsOf = (part) => {
    const text = part.getAttribute("d");
    if (!known.has(text)) {
      if (known.size > 2000) known.clear();
      known.set(text, sampled(text));
    }
    return known.get(text);
  };
  const ARC_STEP = Math.PI / 24;
  const sampled = (text) => {
    const runs = [];
    for (const [, letter, rest] of text.matchAll(/([MLAZ])([^MLAZ]*)/g)) {
      const given = rest.trim().split(/\s+/).map(Number), end = given.slice(-2), run = runs.at(-1);
      if (letter === "M") runs.push([end]);
      else if (letter === "L") run.push(end);
      else if (letter === "Z") run.push(run[0]);
      else run.push(...arcTo(run.at(-1), end, given[0], given[4]));
    }
    return runs;
  };
  const arcTo = ([x0, y0], [x1, y1], radius, sweeps) => {
    const half = Math.hypot(x1 - x0, y1 - y0) / 2, off = Math.sqrt(Math.max(radius ** 2 - half ** 2, 0)) * (sweeps ? 1 : -1);
    const x = (x0 + x1) / 2 - off * (y1 - y0) / (2 * half), y = (y0 + y1) / 2 + off * (x1 - x0) / (2 * half);
    const from = Math.atan2(y0 - y, x0 - x), turn = (2 * Math.asin(Math.min(half / radius, 1))) * (sweeps ? 1 : -1);
    const steps = Math.ceil(Math.abs(turn) / ARC_STEP);
    return Array.from({ length: steps }, (_, k) => {
      const angle = from + turn * (k + 1) / steps;
      return k + 1 === steps ? [x1, y1] : [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
    });
  };

  // What is tapped: a hole, else the line that runs near, else the smallest region round the place
  const fromSegment = ([x, y], [x0, y0], [x1, y1]) => {
    const run = x1 - x0, rise = y1 - y0, length = run ** 2 + rise ** 2;
    const share = length ? Math.min(Math.max(((x - x0) * run + (y - y0) * rise) / length, 0), 1) : 0;
    return Math.hypot(x - x0 - share * run, y - y0 - share * rise);
  };
  const fromPart = (part, at) => {
    if (part.tagName === "circle") {
      return Math.abs(Math.hypot(at[0] - part.getAttribute("cx"), at[1] - part.getAttribute("cy")) - part.getAttribute("r"));
    }
    return Math.min(...pointsOf(part).flatMap((run) => run.slice(1).map((point, k) => fromSegment(at, run[k], point))));
  };
  const areaRound = (part, [x, y]) => {
    let isInside = false, area = 0;
    for (const run of pointsOf(part)) {
      for (let k = 1; k < run.length; k += 1) {
        const [x0, y0] = run[k - 1], [x1, y1] = run[k];
        area += (x0 * y1 - x1 * y0) / 2;
        if ((y0 > y) !== (y1 > y) && x < x0 + (y - y0) / (y1 - y0) * (x1 - x0)) isInside = !isInside;
      }
    }
    return isInside ? Math.abs(area) : Infinity;
  };
  const nearest = (parts, far) => {
    let best = null, least = Infinity;
    for (const part of parts) {
      const off = far(part);
      if (off < least) { least = off; best = part; }
    }
    return { best, least };
  };
  const tapped = (x_px, y_px) => {
    const svg = drawing(), { left, top } = seen(), at = [left + x_px / view.scale, top + y_px / view.scale];
    const holes = nearest(svg.querySelectorAll("circle[data-hole]"), (one) => Math.hypot(at[0] - one.getAttribute("cx"), at[1] - one.getAttribute("cy")));
    const lines = nearest(svg.querySelectorAll(":is(path, circle)[data-part]:not([data-hole])"), (one) => fromPart(one, at));
    const isOnLine = lines.least * view.scale <= ON_LINE_PX && holes.least * view.scale > ON_HOLE_PX; // a finger that means the line
    const isHole = !isOnLine && holes.least * view.scale <= HOLE_REACH_PX;
    const part = isHole ? holes.best : lines.least * view.scale <= LINE_REACH_PX ? lines.best
      : nearest(svg.querySelectorAll('path[data-part][d$="Z"]'), (one) => areaRound(one, at)).best;
    const [xx, xy, yx, yy] = numbers(svg.dataset.axes);
    const detail = {
      hole: isHole ? holes.best.dataset.hole : "", part: part?.dataset.part ?? "",
      x_in: at[0] * xx + at[1] * xy, y_in: at[0] * yx + at[1] * yy,
    };
    document.dispatchEvent(new CustomEvent("tapped", { detail }));
  };

  // By hand: one finger or the mouse moves, two fingers zoom, what did not move is a tap
  const fingers = new Map();
  let isStill = true, last = { at: 0, x: 0, y: 0 };
  const place = (event) => {
    const { left, top } = board().getBoundingClientRect();
    return { x: event.clientX - left - board().clientLeft, y: event.clientY - top - board().clientTop };
  };
  const spread = () => {
    const [one, other] = [...fingers.values()];
    return { x: (one.x + other.x) / 2, y: (one.y + other.y) / 2, apart: Math.hypot(one.x - other.x, one.y - other.y) };
  };
  answer.addEventListener("pointerdown", (event) => {
    if (event.button || !event.target.closest(".board") || event.target.closest("button") || !drawing()) return;
    isStill = !fingers.size;
    fingers.set(event.pointerId, place(event));
  });
  answer.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId), now = fingers.size && place(event);
    if (!before) return;
    if (isStill && fingers.size === 1 && Math.hypot(now.x - before.x, now.y - before.y) < STILL_PX) return;
    if (isStill) board().setPointerCapture(event.pointerId);
    isStill = false;
    const earlier = fingers.size === 2 && spread();
    fingers.set(event.pointerId, now);
    if (fingers.size === 1) moved(now.x - before.x, now.y - before.y);
    if (!earlier) return;
    const { x, y, apart } = spread();
    moved(x - earlier.x, y - earlier.y);
    zoomed(apart / Math.max(earlier.apart, 1), { x, y });
  });
  answer.addEventListener("pointerup", (event) => {
    if (!fingers.delete(event.pointerId) || !isStill || fingers.size) return;
    const { x, y } = place(event);
    if (event.timeStamp - last.at < TWICE_MS && Math.hypot(x - last.x, y - last.y) < HOLE_REACH_PX) {
      last.at = 0;
      zoomed(2, { x, y });
      return;
    }
    last = { at: event.timeStamp, x, y };
    tapped(x, y);
  });
  answer.addEventListener("pointercancel", (event) => { fingers.delete(event.pointerId); });

  // The wheel zooms a drawing that has the focus, or where nothing around it could scroll; it never holds up the page
  const scrolls = (element) => {
    if (!element) return false;
    const isRoom = element === document.documentElement || ["auto", "scroll"].includes(getComputedStyle(element).overflowY);
    return (isRoom && element.scrollHeight > element.clientHeight + 1) || scrolls(element.parentElement);
  };
  answer.addEventListener("wheel", (event) => {
    const here = event.target.closest(".board");
    if (!here || !drawing() || !(event.ctrlKey || here.contains(document.activeElement) || !scrolls(here.parentElement))) return;
    event.preventDefault();
    zoomed(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.002) * (event.ctrlKey ? 4 : 1)), place(event));
  }, { passive: false });

  const KEYS = {
    "+": () => zoomed(STEP), "=": () => zoomed(STEP), "-": () => zoomed(1 / STEP), "0": () => named("whole"),
    ArrowLeft: () => moved(room.wide / 8, 0), ArrowRight: () => moved(-room.wide / 8, 0),
    ArrowUp: () => moved(0, room.high / 8), ArrowDown: () => moved(0, -room.high / 8),
  };
  answer.addEventListener("keydown", (event) => {
    if (!event.target.matches(".board") || !(event.key in KEYS) || event.ctrlKey || event.metaKey || event.altKey || !drawing()) return;
    event.preventDefault();
    KEYS[event.key]();
  });
  const DOES = { close: () => named("close"), whole: () => named("whole"), in: () => zoomed(STEP), out: () => zoomed(1 / STEP) };
  answer.addEventListener("click", (event) => {
    const button = event.target.closest("[data-view]");
    if (button && drawing()) DOES[button.dataset.view]();
  });

  // On paper stands what is new, whole; the screen gets its own view back
  let before = null;
  addEventListener("beforeprint", () => { before = { ...view }; if (told) named("close"); });
  addEventListener("afterprint", () => { Object.assign(view, before); measure(); show(); });

  document.body.addEventListener("htmx:afterSwap", (event) => { if (event.detail.target === answer) refit(); });
  document.addEventListener("judged", refit);
  refit();
})();
