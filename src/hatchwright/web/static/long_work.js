// Shows how far long work is. The bar moves where it stands, so that the focus stays on its button; only when something
// else is the case does what has come take the place of what is there.
"use strict";
const showWork = (room, html) => {
  const come = document.createRange().createContextualFragment(html);
  const bar = room.querySelector("progress"), next = come.querySelector("progress");
  if (bar && next) {
    bar.value = next.value;
    bar.closest("form").setAttribute("action", next.closest("form").getAttribute("action")); // it may be other work by now
    const doing = room.querySelector(".doing"), told = come.querySelector(".doing").textContent;
    if (doing.textContent !== told) doing.textContent = told;
    return false;
  }
  const what = (part) => part.querySelector(".work")?.dataset.is ?? "";
  if (what(room) && what(room) === what(come)) return false;
  room.replaceChildren(...come.childNodes);
  return true;
};
