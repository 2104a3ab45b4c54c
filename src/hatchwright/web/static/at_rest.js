// Asks for what takes longer than the drawing once nobody has typed for a while. What has been overtaken is dropped,
// and while an answer is due, what stands there is said to be of an earlier entry.
"use strict";
const filled = (sentence, holes) => sentence.replace(/\{(\w+)\}/g, (hole, name) => holes[name] ?? hole);
const atRest = (name, { restMs, show, isShown }) => {
  const byId = (id) => document.getElementById(id);
  const section = byId(name), shown = byId(`${name}-shown`), said = byId(`${name}-said`);
  const words = JSON.parse(section.dataset.words);
  let resting = 0, asked = null, isOld = false;
  const about = () => byId("answer-data").dataset;
  const say = (line) => {
    const earlier = isOld && shown.childElementCount && line;
    section.dataset.state = earlier ? "old" : "fresh";
    const whole = earlier ? filled(words.earlier, { line }) : line;
    if (said.textContent !== whole) said.textContent = whole;
  };
  const ask = async () => {
    const mine = (asked = new AbortController());
    const version = about().version;
    say(words.working);
    try {
      const answer = await fetch(`${section.dataset.from}?version=${version}`, { signal: mine.signal });
      if (answer.status === 204) return;
      if (!answer.ok) throw new Error(String(answer.status));
      const html = await answer.text();
      if (mine.signal.aborted || version !== about().version) return;
      isOld = false;
      say("");
      show(html, shown);
    } catch (error) {
      if (!mine.signal.aborted) say(filled(words.failed, { why: error.message }));
    }
  };
  const drop = () => { clearTimeout(resting); asked?.abort(); };
  const rest = () => {
    drop();
    if (about().sound === "no") { say(words.waiting); return; }
    say(words.resting);
    resting = setTimeout(ask, restMs);
  };
  byId("entries").addEventListener("input", drop);
  document.body.addEventListener("htmx:afterSwap", (event) => { if (event.detail.target.id === "answer") { isOld = true; rest(); } });
  if (!isShown || about().sound === "no") rest();
};
