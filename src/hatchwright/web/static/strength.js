// The strength of the job, below its findings.
"use strict";
if (document.getElementById("strength")) {
  atRest("strength", {
    restMs: 700,
    show: (html, shown) => {
      const focus = shown.contains(document.activeElement) && document.activeElement.getAttribute("href");
      const open = [...shown.querySelectorAll("details[open]")].map((part) => part.id);
      shown.innerHTML = html;
      for (const id of open) if (document.getElementById(id)) document.getElementById(id).open = true;
      if (focus) shown.querySelector(`a[href="${CSS.escape(focus)}"]`)?.focus({ preventScroll: true });
    },
  });
}
