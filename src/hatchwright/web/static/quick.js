// What has come with an answer goes beside the boxes, and into the address, so that it stands there again after a reload.
"use strict";
(() => {
  const section = document.getElementById("quick-answer"), trouble = document.getElementById("quick-trouble");
  const put = (element, line) => { if (element.textContent !== line) element.textContent = line; };
  document.body.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target !== section) return;
    put(trouble, "");
    const about = document.getElementById("quick-data").dataset;
    history.replaceState(null, "", `${section.dataset.from}?${about.query}`);
    for (const [name, [line, isFaulty]] of Object.entries(JSON.parse(about.said))) {
      const id = name.replaceAll(".", "-"), box = document.getElementById(`f-${id}`), echo = document.getElementById(`e-${id}`);
      put(echo, line);
      echo.classList.toggle("is-faulty", isFaulty);
      if (isFaulty) box.setAttribute("aria-invalid", "true"); else box.removeAttribute("aria-invalid");
    }
  });
  // No old answer stands beside new entries that were not answered.
  const failed = () => { section.replaceChildren(); put(trouble, trouble.dataset.words); };
  for (const name of ["htmx:sendError", "htmx:timeout", "htmx:responseError"]) document.body.addEventListener(name, failed);
})();
