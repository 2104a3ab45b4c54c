// Asks for the strength of the job once nobody has typed for a while. What has been overtaken is dropped, and nothing
// here touches the drawing.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const section = byId("strength"), shown = byId("strength-shown"), said = byId("strength-said");
  if (!section) return;
  const REST_MS = 700;
  let resting = 0, asked = null;
  const about = () => byId("answer-data").dataset;
  const say = (words) => {
    const earlier = shown.childElementCount && words;
    section.dataset.state = earlier ? "old" : "fresh";
    const line = earlier ? `${words} What stands below is of an earlier entry.` : words;
    if (said.textContent !== line) said.textContent = line;
  };
  const show = (html) => {
    const focus = shown.contains(document.activeElement) && document.activeElement.getAttribute("href");
    const open = [...shown.querySelectorAll("details[open]")].map((part) => part.id);
    shown.innerHTML = html;
    for (const id of open) if (byId(id)) byId(id).open = true;
    if (focus) shown.querySelector(`a[href="${CSS.escape(focus)}"]`)?.focus({ preventScroll: true });
    say("");
  };
  const ask = async () => {
    const mine = (asked = new AbortController());
    const version = about().version;
    say("Strength is being worked out.");
    try {
      const answer = await fetch(`${section.dataset.from}?version=${version}`, { signal: mine.signal });
      if (answer.status === 204) return;
      if (!answer.ok) throw new Error(String(answer.status));
      const html = await answer.text();
      if (!mine.signal.aborted && version === about().version) show(html);
    } catch (error) {
      if (!mine.signal.aborted) say(`Strength could not be worked out (${error.message}).`);
    }
  };
  const drop = () => { clearTimeout(resting); asked?.abort(); };
  const rest = () => {
    drop();
    if (about().sound === "no") { say("Strength waits until the entries are mended."); return; }
    say("Strength is worked out when you rest.");
    resting = setTimeout(ask, REST_MS);
  };
  byId("entries").addEventListener("input", drop);
  document.body.addEventListener("htmx:afterSwap", (event) => { if (event.detail.target.id === "answer") rest(); });
  rest();
})();
