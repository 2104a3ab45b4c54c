// Draws the picture of a new job again while its figures are typed.
"use strict";
(() => {
  const RESTS_MS = 200;
  const form = document.getElementById("asked"), shown = document.getElementById("asked-drawing");
  const from = shown.src.split("?")[0];
  let waits = 0, serial = 0;
  const draw = () => {
    const mine = ++serial, asked = new URLSearchParams({ letters: "yes" });
    for (const [name, value] of new FormData(form)) {
      if (!["csrfmiddlewaretoken", "title"].includes(name) && value.trim()) asked.set(name, value);
    }
    const come = new Image();
    come.onload = () => { if (mine === serial) shown.src = come.src; };
    come.src = `${from}?${asked}`;
  };
  form.addEventListener("input", (event) => {
    if (event.target.name === "title") return;
    clearTimeout(waits);
    waits = setTimeout(draw, RESTS_MS);
  });
})();
