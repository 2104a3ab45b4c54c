// Follows the making of a print package, and then whether its job is still the one that it was made of.
"use strict";
const made = document.getElementById("made"), said = document.getElementById("made-said");
const words = JSON.parse(made.dataset.words);
const PAUSE_MS = 300, ENDED_PAUSE_MS = 4000;
const say = (line, isSeen = true) => {
  said.classList.toggle("aside", !isSeen);
  if (said.textContent !== line) said.textContent = line;
};
const look = async () => {
  let isOn = false;
  try {
    const answer = await fetch(made.dataset.from);
    isOn = answer.status === 202;
    const held = made.contains(document.activeElement);
    if (!answer.ok) say(words.refused);
    else if (showWork(made, await answer.text())) {
      say(made.querySelector("h2, .moved-on strong").textContent, false);
      if (held) made.querySelector("h2").focus();
    } else if (said.textContent === words.silent || said.textContent === words.refused) say("");
  } catch {
    say(words.silent);
  }
  setTimeout(look, isOn ? PAUSE_MS : ENDED_PAUSE_MS);
};
look();
