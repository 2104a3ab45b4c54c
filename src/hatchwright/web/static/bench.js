// What stands beside the drawing: the findings, the tag of a part or of a hole, and the list of all entries. A tap in
// the drawing opens the tag of what is there; the list is the way of the keyboard. Nothing is computed here.
"use strict";
(() => {
  const bench = document.getElementById("bench");
  if (!bench) return;
  const byId = (id) => document.getElementById(id);
  const words = JSON.parse(bench.dataset.words);
  const form = byId("entries"), findings = byId("findings"), holeTag = byId("hole-tag"), said = byId("hole-said");
  const anchor = (path) => path.replaceAll(".", "-");
  const put = (element, line) => { if (element && element.textContent !== line) element.textContent = line; };
  document.documentElement.classList.add("has-script");
  let part = "", hole = "", asked = null;
  const flowing = matchMedia("not all and (min-width: 46em) and (min-height: 34em)");
  const isUpright = () => flowing.matches; // the page itself scrolls: half of the drawing stays above the tag

  // Which face is up: findings, entries (all of them, or the tag of one part), or the tag of a hole
  const face = (name) => {
    bench.dataset.face = name;
    for (const button of bench.querySelectorAll(".faces [data-face]")) button.setAttribute("aria-pressed", String(button.dataset.face === name));
    holeTag.hidden = name !== "hole";
    if (name !== "hole") asked?.abort(); // a tag that comes late does not push away what was turned to since
    remember();
  };
  const place = `beside ${location.pathname}`;
  const remember = () => {
    try { sessionStorage.setItem(place, JSON.stringify([bench.dataset.face === "hole" ? "findings" : bench.dataset.face, part])); } catch { /* nothing is kept then */ }
  };

  // The tag of a part: its section alone, what stops there above it
  const sectionOf = (path) => {
    if (path === "") return byId("s-job");
    for (let near = path; near; near = near.slice(0, Math.max(0, near.lastIndexOf(".")))) {
      const found = byId(`s-${anchor(near)}`);
      if (found) return found;
    }
    return null;
  };
  const topOf = (element) => {
    let top = null;
    for (let up = element; up && up !== form; up = up.parentElement) if (up.matches(".section, .absent")) top = up;
    return top;
  };
  const unfold = (element) => {
    for (let fold = element; fold && fold !== document.body; fold = fold.parentElement) if (fold.matches("details")) fold.open = true;
  };
  const choose = (path, { focus = null, quiet = false, byKey = false } = {}) => {
    for (const old of form.querySelectorAll(".chosen, .chosen-line")) old.classList.remove("chosen", "chosen-line");
    const there = path === null ? null : sectionOf(path);
    const top = there && topOf(there);
    part = top ? path : null;
    form.classList.toggle("is-tag", Boolean(top));
    for (const other of form.querySelectorAll(".stage > details.section")) if (other !== top) other.open = false;
    if (top) {
      top.classList.add("chosen");
      unfold(there);
      for (const inner of top.querySelectorAll(":scope > .section-body > .boxes > .inside > details.section")) inner.open = true;
      if (there !== top) there.classList.add("chosen-line");
    }
    face("entries");
    stopsHere();
    markAll();
    if (quiet) return;
    const box = focus || (byKey && there ? there.querySelector("input:not([type=hidden]), select, button") : null);
    if (top) window.sheet?.showPart?.(part);
    byId("beside").scrollTop = 0;
    if (box) box.focus({ preventScroll: true });
    if (isUpright()) form.scrollIntoView({ block: "start" });
    (focus || (there === top ? byId("to-all") : there) || form).scrollIntoView({ block: "nearest" });
  };
  const isUnder = (path, above) => path === above || path.startsWith(`${above}.`);
  const linkTo = (line) => {
    const link = document.createElement("a"), told = document.createElement("span");
    link.href = `#${line.id}`;
    told.textContent = line.querySelector("h4").textContent;
    link.append(line.querySelector(".symbol").cloneNode(true), told);
    return link;
  };
  const stopsHere = () => {
    const here = byId("stops-here");
    const lines = !part ? [] : [...findings.querySelectorAll(".finding[data-parts]")].filter(
      (line) => line.dataset.parts.split(" ").some((one) => one && (isUnder(one, part) || isUnder(part, one))));
    here.replaceChildren(...lines.map(linkTo));
  };

  // Marks: a hole's number in the drawing and its findings point to each other; so do a part and its lines
  const SEVERE = ["is-stop", "is-unknown", "is-caution"];
  const drawing = () => byId("answer").querySelector(".sheet svg");
  const ofHole = (number) => [...findings.querySelectorAll(".finding[data-holes]")].filter((one) => one.dataset.holes.split(" ").includes(number));
  const markAll = () => {
    for (const old of bench.querySelectorAll(".marked:not(.lettering *)")) old.classList.remove("marked");
    for (const button of bench.querySelectorAll("[data-mark]")) button.setAttribute("aria-pressed", String(button.dataset.mark === hole));
    if (bench.dataset.face === "entries" && part) {
      for (const one of drawing()?.querySelectorAll("[data-part]") || []) if (isUnder(one.dataset.part, part)) one.classList.add("marked");
    }
    if (!hole) { put(said, ""); return []; }
    const name = CSS.escape(hole);
    const shown = drawing()?.querySelectorAll(`[data-hole="${name}"], [data-note="hole-${name}"]`) || [];
    for (const one of shown) one.classList.add("marked");
    const lines = ofHole(hole), open = lines.filter((one) => !one.matches(".is-pass"));
    for (const one of open.length ? open : lines) one.classList.add("marked");
    // The lines stand by shelf, so that the first of them need not be the worst of this hole.
    const worst = SEVERE.map((status) => open.find((one) => one.matches(`.${status}`))).find(Boolean);
    const told = worst?.querySelector(`.said[data-holes~="${name}"]`)?.dataset; // of several causes in one line, that of this hole
    const isOld = findings.dataset.state === "old";
    const line = isOld ? words.hole_old : !shown.length ? words.hole_none : told ? words.hole_worst : words.hole_clear;
    put(said, filled(line, { number: hole, status: told?.status, what: told?.subject }));
    return open;
  };
  const showHole = async (number, { seek = true } = {}) => {
    hole = number;
    if (!hole) { markAll(); return; }
    if (bench.dataset.face === "entries") choose(null, { quiet: true });
    markAll();
    if (seek) window.sheet?.showHoles?.([hole]);
    asked?.abort();
    const mine = (asked = new AbortController());
    try {
      const answer = await fetch(bench.dataset.holeFrom.slice(0, -1) + (Number.parseInt(hole, 10) || 0), { signal: mine.signal });
      if (answer.status !== 200) { // no such hole, or none while entries are to be fixed
        if (bench.dataset.face === "hole") face("findings");
        return;
      }
      const html = await answer.text();
      if (mine.signal.aborted) return;
      holeTag.innerHTML = html;
      const list = document.createElement("div");
      list.className = "stops-here";
      list.append(...markAll().map(linkTo));
      holeTag.querySelector("h2").after(list);
      face("hole");
      if (isUpright()) holeTag.scrollIntoView({ block: "start" });
    } catch (error) {
      if (error.name !== "AbortError") put(said, words.hole_lost);
    }
  };

  // Taps: in the drawing, on a line, on a number, on an index line
  const addHole = byId("add-hole"), point = byId("add-point");
  const adding = (is) => {
    addHole.setAttribute("aria-pressed", String(is));
    put(said, is ? words.tap_for_hole : "");
  };
  addHole.addEventListener("click", () => adding(addHole.getAttribute("aria-pressed") !== "true"));
  document.addEventListener("tapped", ({ detail }) => {
    if (addHole.getAttribute("aria-pressed") === "true" && Number.isFinite(detail.x_in)) {
      adding(false);
      point.elements.x.value = detail.x_in.toFixed(4);
      point.elements.y.value = detail.y_in.toFixed(4);
      point.requestSubmit();
      return;
    }
    if (detail.hole) showHole(detail.hole, { seek: false });
    else if (detail.part && sectionOf(detail.part)) { hole = ""; choose(detail.part); }
    else { hole = ""; markAll(); }
  });
  bench.addEventListener("click", (event) => {
    const button = event.target.closest("[data-mark]");
    if (button) { showHole(hole === button.dataset.mark ? "" : button.dataset.mark); return; }
    const turned = event.target.closest(".faces [data-face]");
    if (turned) { if (turned.dataset.face === "entries") choose(null, { quiet: true }); else { face("findings"); markAll(); } return; }
    if (event.target.closest("#to-all")) { const last = part; choose(null, { quiet: true }); topOf(sectionOf(last ?? ""))?.querySelector("summary")?.focus(); return; }
    const summary = event.target.closest(".stage > .section > summary");
    if (summary && form.contains(summary)) { event.preventDefault(); if (!form.classList.contains("is-tag")) choose(summary.parentElement.dataset.path, { byKey: event.detail === 0 }); return; }
    const cause = event.target.closest(".finding .cause > summary");
    if (cause && !cause.parentElement.open) {
      const holes = cause.closest(".finding").dataset.holes.split(" ").filter(Boolean);
      if (holes.length) { hole = ""; markHoles(holes); }
    }
  });
  const markHoles = (holes) => {
    markAll();
    for (const number of holes) for (const one of drawing()?.querySelectorAll(`[data-hole="${CSS.escape(number)}"], [data-note="hole-${CSS.escape(number)}"]`) || []) one.classList.add("marked");
    window.sheet?.showHoles?.(holes);
  };
  byId("find-hole").addEventListener("submit", (event) => {
    event.preventDefault();
    showHole(byId("hole-wanted").value.trim());
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.target.closest("dialog")) return;
    if (bench.dataset.face === "entries" && form.classList.contains("is-tag")) byId("to-all").click();
    else if (bench.dataset.face !== "findings") { face("findings"); markAll(); findings.focus({ preventScroll: true }); }
  });

  // Links within the page: to a box or a section, or to a finding
  const goTo = (id) => {
    const there = id && byId(id);
    if (!there) return false;
    if (form.contains(there) && there !== form) {
      const section = there.closest("[data-path]");
      choose(section ? section.dataset.path : "", { focus: there.matches("input, select") ? there : null });
      unfold(there);
      if (there.matches("input, select")) { there.focus({ preventScroll: true }); there.scrollIntoView({ block: "nearest" }); }
    } else if (there === form) choose(null);
    else if (findings.contains(there) || there === findings) {
      face("findings");
      unfold(there.querySelector(":scope > details.cause") || there);
      const holes = (there.dataset.holes || "").split(" ").filter(Boolean);
      if (holes.length) markHoles(holes);
      there.focus({ preventScroll: true });
      there.scrollIntoView({ block: there === findings ? "start" : "nearest" });
    } else { there.focus({ preventScroll: true }); there.scrollIntoView({ block: "nearest" }); }
    return true;
  };
  document.addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#"]');
    if (link && goTo(decodeURIComponent(link.hash.slice(1)))) event.preventDefault();
  });
  addEventListener("hashchange", () => goTo(decodeURIComponent(location.hash.slice(1))));

  // What comes anew gets its marks again
  document.body.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id !== "answer") return;
    if (byId("answer-data").dataset.sound === "no") { // a verdict of other entries is none of these
      byId("headlines").replaceChildren(byId("entries-first").content.cloneNode(true));
      byId("counts").replaceChildren();
    }
    markAll();
  });
  document.addEventListener("judged", () => { stopsHere(); markAll(); });

  // Where a person was outlives a reload; what was just added has the focus
  const waiting = form.querySelector("[autofocus]");
  const faulty = byId("answer").querySelector(".faults a");
  if (!location.hash || !goTo(decodeURIComponent(location.hash.slice(1)))) {
    let [last, path] = ["findings", null];
    try { [last, path] = JSON.parse(sessionStorage.getItem(place)) || [last, path]; } catch { /* nothing was kept */ }
    const at = new URLSearchParams(location.search).get("at");
    if (waiting) choose(waiting.closest("[data-path]")?.dataset.path ?? "", { focus: waiting });
    else if (at !== null && sectionOf(at)) choose(at, { byKey: true });
    else if (last === "entries" || faulty) choose(last === "entries" ? path : null, { quiet: true });
    else face("findings");
  }
})();
