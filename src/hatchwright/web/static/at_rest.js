// Asks for what takes longer than the drawing once nobody has typed for a while. What has been overtaken is dropped,
// and while an answer is due, what stands there is of an earlier entry and is not seen. What could not be had is asked
// for again, later each time, as long as the page shows that entry.
"use strict";
const filled = (sentence, holes) => sentence.replace(/\{(\w+)\}/g, (hole, name) => holes[name] ?? hole);
const atRest = (name, { restMs, show, isShown, follow }) => {
  const byId = (id) => document.getElementById(id);
  const section = byId(name), shown = byId(`${name}-shown`), said = byId(`${name}-said`);
  const words = JSON.parse(section.dataset.words);
  const FIRST_PAUSE_MS = 500, GOING_ON_PAUSE_MS = 200, LONGEST_PAUSE_MS = 60000;
  let resting = 0, asked = null, isOld = false, pauseMs = FIRST_PAUSE_MS;
  const about = () => byId("answer-data").dataset;
  const say = (line) => {
    section.dataset.state = isOld && shown.childElementCount && line ? "old" : "fresh"; // no old figure beside a new drawing
    if (said.textContent !== line) said.textContent = line;
  };
  const askLater = (why) => {
    say(why);
    resting = setTimeout(ask, pauseMs, true);
    pauseMs = Math.min(2 * pauseMs, LONGEST_PAUSE_MS);
  };
  const ask = async (isAgain = false) => {
    resting = 0;
    const mine = (asked = new AbortController());
    const version = about().version;
    if (!isAgain) say(words.working);
    try {
      const answer = await fetch(`${section.dataset.from}?version=${version}`, { signal: mine.signal });
      if (!answer.ok) throw new Error(String(answer.status));
      const html = await answer.text();
      if (mine.signal.aborted || version !== about().version) return;
      if (answer.status === 202) { // it goes on: how far is shown, and asked for again at once
        follow(html);
        resting = setTimeout(ask, GOING_ON_PAUSE_MS, true);
        return;
      }
      if (answer.status === 204) { askLater(words.moved_on); return; }
      isOld = false;
      pauseMs = FIRST_PAUSE_MS;
      say("");
      follow?.("");
      show(html, shown);
    } catch (error) {
      if (!mine.signal.aborted) askLater(filled(words.failed, { why: error.message }));
    } finally {
      if (asked === mine) asked = null;
    }
  };
  const drop = () => {
    clearTimeout(resting);
    asked?.abort();
    resting = 0;
    asked = null;
    follow?.("");
  };
  const rest = () => {
    drop();
    pauseMs = FIRST_PAUSE_MS;
    if (about().sound === "no") { say(words.waiting); return; }
    say(words.resting);
    resting = setTimeout(ask, restMs);
  };
  byId("entries").addEventListener("input", drop);
  document.body.addEventListener("htmx:afterSwap", (event) => { if (event.detail.target.id === "answer") { isOld = true; rest(); } });
  document.body.addEventListener("htmx:afterRequest", (event) => { // what the entry made stop goes on when that is refused
    if (event.detail.elt === byId("entries") && !event.detail.successful && !resting && !asked) rest();
  });
  if (!isShown || about().sound === "no") rest();
  return { askNow: () => { drop(); ask(); } };
};
