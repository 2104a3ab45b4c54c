// Asks for the jobs of the list that were being checked when it came, some at a time, until nothing of them is lacking.
"use strict";
(() => {
  const RESTS_MS = 500, TRIES_AGAIN_MS = 5000;
  const list = document.getElementById("jobs"), left = document.getElementById("jobs-left"), said = document.getElementById("jobs-said");
  const words = JSON.parse(list.dataset.words);
  const say = (line) => { if (said.textContent !== line) said.textContent = line; };
  const lacking = () => [...list.querySelectorAll('[data-lacks="all"]'), ...list.querySelectorAll('[data-lacks="strength"]')];
  const put = (come, rows) => {
    const row = rows.find((one) => one.dataset.name === come.dataset.name);
    if (!row || row.dataset.lacks === come.dataset.lacks) return;
    const hadFocus = row.contains(document.activeElement);
    row.replaceWith(come);
    if (hadFocus) come.querySelector("a").focus({ preventScroll: true });
  };
  const ask = async () => {
    const rows = lacking().slice(0, Number(list.dataset.atOnce));
    let rests = RESTS_MS;
    try {
      const answer = await fetch(`${list.dataset.from}?${new URLSearchParams(rows.map((row) => ["name", row.dataset.name]))}`);
      if (answer.status === 403) { say(words.ended); return; }
      if (!answer.ok) throw new Error(String(answer.status));
      const come = new DOMParser().parseFromString(await answer.text(), "text/html");
      for (const one of [...come.body.children]) put(one, rows);
      say("");
    } catch {
      say(words.no_answer);
      rests = TRIES_AGAIN_MS;
    }
    const n = lacking().length;
    left.textContent = n ? words.left.replace("{n}", n) : "";
    if (n) setTimeout(ask, rests);
    else say(words.done);
  };
  if (lacking().length) ask();
})();

// A kind of job that has not got the picked shape takes the first that it has.
(() => {
  const section = document.getElementById("new-job");
  section.addEventListener("change", (event) => {
    if (event.target.name !== "kind") return;
    const has = (shape) => !event.target.classList.contains(`no-${shape.value}`);
    const shapes = [...section.querySelectorAll('[name="shape"]')];
    if (!has(shapes.find((shape) => shape.checked))) shapes.find(has).checked = true;
  });
})();
