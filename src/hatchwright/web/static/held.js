// Who follows a link or presses a button waits for what was typed: each is handed over with what it would do.
"use strict";
const heldUntil = (hold) => {
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href]");
    if (link && !link.getAttribute("href").startsWith("#") && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
      hold(event, () => location.assign(link.href));
    }
  }, true);
  document.addEventListener("submit", (event) => hold(event, () => event.target.requestSubmit(event.submitter)), true);
};
