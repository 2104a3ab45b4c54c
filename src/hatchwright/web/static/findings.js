// The findings: asked for at rest, with the drawing that all of them mark. What a person has unfolded, typed or
// focused among them, and where he reads, outlives their coming.
"use strict";
if (document.getElementById("findings")) {
  const byId = (id) => document.getElementById(id);
  const room = byId("findings").parentElement;
  const told = (shown) => {
    const times = {};
    return [...shown.querySelectorAll(".finding, .readings")].map((part) => {
      const name = `${part.querySelector(".code")?.textContent} ${part.querySelector("h3, h4, h5").textContent.replace(/\d+/g, "")}`;
      times[name] = (times[name] || 0) + 1;
      return [`${name} ${times[name]}`, part.getBoundingClientRect()];
    });
  };
  const keep = (shown) => {
    const active = document.activeElement;
    return {
      open: [...shown.querySelectorAll("details[open]")].map((part) => part.id),
      typed: [...shown.querySelectorAll("textarea")].map((area) => [area.id, area.value, area.defaultValue]),
      picked: [...shown.querySelectorAll("input:checked")].filter((box) => !box.defaultChecked).map((box) => [box.name, box.value]),
      focus: shown.contains(active) ? [active.id, active.dataset.mark] : null,
      top: room.scrollTop && told(shown).find(([, box]) => box.bottom > room.getBoundingClientRect().top),
    };
  };
  const restore = (shown, kept) => {
    for (const id of kept.open) if (byId(id)) byId(id).open = true;
    for (const [id, value, before] of kept.typed) {
      const area = byId(id);
      if (area && value !== before) area.value = value;
    }
    for (const [name, value] of kept.picked) {
      for (const box of shown.querySelectorAll("input[type=radio]")) if (box.name === name && box.value === value) box.checked = true;
    }
    if (kept.focus) {
      const [id, hole] = kept.focus;
      const next = id ? byId(id) : hole ? shown.querySelector(`[data-mark="${CSS.escape(hole)}"]`) : null;
      if (next) next.focus({ preventScroll: true });
    }
    const top = kept.top && told(shown).find(([name]) => name === kept.top[0]);
    if (top) room.scrollTop += top[1].top - kept.top[1].top;
  };
  atRest("findings", {
    restMs: 300,
    isShown: byId("findings").dataset.shown === "yes", // strength that was asked for comes after the page
    show: (html, shown) => {
      const come = new DOMParser().parseFromString(html, "text/html");
      const kept = keep(shown);
      childrenInPlace(byId("headlines"), come.querySelector(".headlines-come"));
      childrenInPlace(byId("counts"), come.querySelector(".counts-come"));
      childrenInPlace(document.querySelector(".not-checked-said"), come.querySelector(".not-checked-come"));
      childrenInPlace(document.querySelector("#drawing .sheet"), come.querySelector(".sheet-come"));
      shown.replaceChildren(...come.querySelector(".findings-come").childNodes);
      htmx.process(shown);
      document.dispatchEvent(new Event("judged")); // the drawing gets its look before anybody asks where things lie
      restore(shown, kept);
    },
  });
}
