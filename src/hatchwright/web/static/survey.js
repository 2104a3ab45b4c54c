// Sends what is typed, one entry at a time, and puts what has come beside the boxes. Nothing is computed here.
"use strict";
(() => {
  const form = document.getElementById("entries"), state = document.getElementById("state");
  if (!form) return;
  const words = JSON.parse(state.dataset.words), PAUSE_MS = 120, RETRY_MS = 2000;
  let serial = 0, visit = 0, isOnItsWay = false, hasMore = false, leave = null, pause = 0;
  const put = (element, line) => { if (element && element.textContent !== line) element.textContent = line; };
  const say = (name, line) => { document.body.dataset.state = name; put(state, line); };
  const enterNow = () => {
    clearTimeout(pause);
    hasMore = isOnItsWay;
    if (!isOnItsWay) htmx.trigger(form, "entry");
  };
  const enterSoon = () => { clearTimeout(pause); pause = setTimeout(enterNow, PAUSE_MS); };
  const isWaiting = () => isOnItsWay || hasMore || pause;
  document.addEventListener("focusin", () => { visit += 1; });
  form.addEventListener("input", enterSoon);
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input")) { event.preventDefault(); enterNow(); }
  });
  document.body.addEventListener("htmx:configRequest", (event) => {
    const { formData } = event.detail;
    formData.set("serial", ++serial);
    formData.set("step", `v${visit}`);
    event.detail.path = form.getAttribute("hx-post"); // a button that was pressed goes its own way, by a submit
    event.detail.parameters = Object.fromEntries([...formData].filter(([name]) => name !== "part"));
  });
  document.body.addEventListener("htmx:beforeRequest", () => { isOnItsWay = true; pause = 0; });
  document.body.addEventListener("htmx:afterRequest", (event) => {
    isOnItsWay = false;
    if (hasMore) { enterNow(); return; }
    const go = event.detail.successful ? leave : null;
    leave = null;
    if (go) go();
  });

  // Who leaves the page, or presses something, waits for what was typed.
  const whenEntered = (event, go) => {
    if (!isWaiting()) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    leave = go;
    if (pause) enterNow();
  };
  heldUntil(whenEntered);
  document.addEventListener("submit", (event) => {
    if (event.defaultPrevented || event.target !== form) return;
    form.elements.serial.value = ++serial;
    form.elements.step.value = "";
  }, true);
  addEventListener("pagehide", () => {
    if (!isWaiting()) return;
    form.elements.serial.value = ++serial;
    form.elements.step.value = `v${visit}`;
    navigator.sendBeacon(form.action, new URLSearchParams(new FormData(form)));
  });

  document.body.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "notice") { say("failed", words.not_saved); return; }
    if (event.detail.target.id !== "survey-answer") return;
    const about = document.getElementById("survey-data").dataset;
    for (const base of document.querySelectorAll('[name="base"]')) base.value = about.version;
    document.getElementById("undo").disabled = about.undo === "0";
    document.getElementById("redo").disabled = about.redo === "0";
    document.getElementById("notice").replaceChildren();
    if (!hasMore) say("saved", words.saved.replace("{time}", about.saved));
    for (const [name, [line, isFaulty]] of Object.entries(JSON.parse(about.said))) {
      const output = document.getElementById(`e-${name}`), box = document.getElementById(`f-${name}`);
      if (!output || !box) continue;
      put(output, line);
      output.classList.toggle("is-faulty", isFaulty);
      if (isFaulty) box.setAttribute("aria-invalid", "true"); else box.removeAttribute("aria-invalid");
    }
  });
  const failed = () => { say("failed", words.no_answer); clearTimeout(pause); pause = setTimeout(enterNow, RETRY_MS); };
  for (const name of ["htmx:sendError", "htmx:timeout"]) document.body.addEventListener(name, failed);
  document.body.addEventListener("htmx:responseError", (event) => {
    if (event.detail.xhr.status !== 409) say("failed", words.not_saved);
  });
})();
