// The few things that htmx does not do by itself: numbering of entries, echoes, and saying when the drawing is not
// up to date. Everything works on what the server has sent; nothing is computed here.
"use strict";
(() => {
  const form = document.getElementById("entries");
  if (!form) return;
  const byId = (id) => document.getElementById(id);
  const words = JSON.parse(document.body.dataset.words);
  const RETRY_MS = 2000;
  let serial = 0, visit = 0, retry = 0;

  // Each visit to a box is one step of undo; each entry has a running number, so that a late one can't follow.
  document.addEventListener("focusin", () => { visit += 1; });
  document.body.addEventListener("htmx:configRequest", (event) => {
    if (event.detail.elt !== form) return;
    const { formData } = event.detail;
    formData.set("serial", ++serial);
    formData.set("step", `v${visit}`);
    // Boxes in which the program's own answer still stands are left away: there are hundreds, and one is typed in.
    const boxes = [...form.elements].filter((box) => box.matches("input") && box.name.startsWith("job."));
    sent = boxes.filter((box) => sendsAll || box.value !== box.defaultValue).map((box) => [box, box.value]);
    // A button that was pressed goes its own way, by a submit; htmx would take it along with the next key.
    event.detail.path = form.getAttribute("hx-post");
    const left = new Set(["part", "over", ...boxes.map((box) => box.name)]);
    const rest = [...formData].filter(([name]) => !left.has(name));
    event.detail.parameters = Object.fromEntries([...rest, ...sent.map(([box, value]) => [box.name, value])]);
  });

  // One entry is on its way at a time; what is typed meanwhile follows it, and who leaves the page waits for both.
  const SLOW_MS = 400;
  let sent = [], sendsAll = false;
  let isOnItsWay = false, hasMore = false, isLeaving = false, slow = 0, leave = null;
  const enterNow = () => {
    hasMore = isOnItsWay;
    if (!isOnItsWay) htmx.trigger(form, "entry");
  };
  form.addEventListener("input", enterNow);
  byId("looks").addEventListener("input", enterNow);
  document.body.addEventListener("htmx:beforeRequest", (event) => {
    if (event.detail.elt !== form) return;
    isOnItsWay = true;
    slow = setTimeout(() => {
      if (document.body.dataset.state !== "failed") say("saving", words.saving);
      byId("not-up-to-date").textContent = words.no_answer_yet;
    }, SLOW_MS);
  });
  document.body.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.elt !== form) return;
    isOnItsWay = false;
    clearTimeout(slow);
    if (event.detail.successful) for (const [box, value] of sent) box.defaultValue = value;
    // Who has to choose between two versions of the job sees every box in which they differ.
    const asksForAll = event.detail.xhr.status === 409 && !sendsAll;
    sendsAll = event.detail.xhr.status === 409;
    hasMore ||= asksForAll;
    if (hasMore) { enterNow(); return; }
    const go = event.detail.successful ? leave : null;
    leave = null;
    if (go) go();
  });
  const whenEntered = (event, go) => {
    if (!isOnItsWay && !hasMore) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    leave = go;
  };
  heldUntil(whenEntered);
  document.addEventListener("submit", (event) => {
    if (event.defaultPrevented || event.target.method !== "post") return;
    if (isLeaving) event.preventDefault();
    isLeaving = true;
  }, true);
  addEventListener("pageshow", () => { isLeaving = false; });
  addEventListener("pagehide", () => {
    if (!isOnItsWay && !hasMore) return;
    form.elements.serial.value = ++serial;
    form.elements.step.value = `v${visit}`;
    navigator.sendBeacon(form.action, new URLSearchParams(new FormData(form)));
  });
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input")) { event.preventDefault(); enterNow(); }
  });
  form.addEventListener("submit", (event) => {
    form.elements.serial.value = ++serial;
    window.removeEventListener("beforeunload", askBeforeLeaving);
    if (event.submitter && event.submitter.name === "over") form.elements.step.value = "";
  });

  // What the page says of itself
  const say = (state, line) => { document.body.dataset.state = state; byId("state").textContent = line; };
  const askBeforeLeaving = (event) => { if (document.body.dataset.state === "failed") event.preventDefault(); };
  window.addEventListener("beforeunload", askBeforeLeaving);
  const failed = (why) => {
    say("failed", words.not_saved);
    byId("not-up-to-date").textContent = why;
  };
  const tryAgain = () => { clearTimeout(retry); retry = setTimeout(enterNow, RETRY_MS); };
  document.body.addEventListener("htmx:sendError", () => { failed(words.no_answer); tryAgain(); });
  document.body.addEventListener("htmx:timeout", () => { failed(words.too_slow); tryAgain(); });
  document.body.addEventListener("htmx:responseError", (event) => {
    const { xhr } = event.detail, { status } = xhr;
    if (xhr.getResponseHeader("X-May-Not")) { failed(words.may_not); return; } // it stays so however often it is sent
    failed(status === 403 ? words.ended : filled(words.could_not_answer, { status }));
    if (status === 403) tryAgain();
  });

  // Echoes and faults, beside the boxes that stay where they are
  const put = (element, line) => { if (element && element.textContent !== line) element.textContent = line; };
  const fill = (said) => {
    for (const [name, [line, isFaulty]] of Object.entries(said.boxes)) {
      const output = byId(`e-${name}`), box = byId(`f-${name}`);
      if (!output) continue;
      put(output, line);
      output.classList.toggle("is-faulty", isFaulty);
      if (isFaulty) box.setAttribute("aria-invalid", "true"); else box.removeAttribute("aria-invalid");
    }
    for (const [name, faults] of Object.entries(said.parts)) {
      byId(`p-${name}`)?.replaceChildren(...faults.map((fault) => {
        const line = document.createElement("p");
        line.className = "is-faulty";
        line.textContent = fault;
        return line;
      }));
    }
    for (const [name, gist] of Object.entries(said.gists)) put(byId(`g-${name}`), gist);
  };

  // What follows the drawing into its place
  document.body.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "notice") {
      say("failed", words.not_saved);
      byId("notice").scrollIntoView({ block: "nearest" });
      byId("not-up-to-date").textContent = words.not_written;
      return;
    }
    if (event.detail.target.id !== "answer") return;
    clearTimeout(retry);
    const about = byId("answer-data").dataset;
    form.elements.base.value = about.version;
    for (const base of document.querySelectorAll('[name="base"]')) base.value = about.version;
    byId("undo").disabled = about.undo === "0";
    byId("redo").disabled = about.redo === "0";
    put(byId("title"), about.title);
    byId("notice").replaceChildren();
    const isSound = about.sound === "yes";
    if (hasMore) say("saving", words.saving);
    else say(isSound ? "sound" : "unsound", filled(isSound ? words.saved : words.saved_unsound, { time: about.saved }));
    fill(JSON.parse(about.said));
  });
})();
