// The strength of the job, below its findings; while it is worked out, how far that is, and a button that ends it.
"use strict";
if (document.getElementById("strength")) {
  const section = document.getElementById("strength"), room = document.createElement("div");
  document.getElementById("strength-said").after(room);
  const strength = atRest("strength", {
    restMs: 700,
    follow: (html) => showWork(room, html),
    show: (html, shown) => {
      const focus = shown.contains(document.activeElement) && document.activeElement.getAttribute("href");
      const open = [...shown.querySelectorAll("details[open]")].map((part) => part.id);
      shown.innerHTML = html;
      for (const id of open) if (document.getElementById(id)) document.getElementById(id).open = true;
      if (focus) shown.querySelector(`a[href="${CSS.escape(focus)}"]`)?.focus({ preventScroll: true });
    },
  });
  section.addEventListener("submit", async (event) => { // ended, or begun again, without leaving the page
    event.preventDefault();
    const how = { method: "POST", body: new FormData(event.target), redirect: "manual" }; // leads to the whole page anew
    await fetch(event.target.action, how).catch(() => {}); // what is asked now says that nobody answers
    strength.askNow();
  });
}
