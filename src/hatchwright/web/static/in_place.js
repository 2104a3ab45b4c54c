// Puts what has come into the place of what is there, and touches nothing that stays the same: a drawing of which
// one edge has moved is laid out and painted for that edge alone.
"use strict";
const partsOf = (element) => [...element.childNodes].filter((part) => part.nodeType !== Node.TEXT_NODE || part.data.trim());
const inPlace = (there, come) => {
  if (there.isEqualNode(come)) return;
  const isBranch = there.childElementCount && there.tagName === come.tagName;
  if (!isBranch || partsOf(there).length !== partsOf(come).length) { there.replaceWith(come); return; }
  for (const { name } of [...there.attributes]) if (!come.hasAttribute(name)) there.removeAttribute(name);
  for (const { name, value } of come.attributes) if (there.getAttribute(name) !== value) there.setAttribute(name, value);
  childrenInPlace(there, come);
};
const childrenInPlace = (there, come) => {
  const parts = partsOf(there), coming = partsOf(come);
  if (parts.length !== coming.length) there.replaceChildren(...come.childNodes);
  else parts.forEach((part, k) => inPlace(part, coming[k]));
};
htmx.defineExtension("in-place", {
  isInlineSwap: (style) => style === "in-place",
  handleSwap: (style, target, fragment) => {
    if (style !== "in-place") return false;
    childrenInPlace(target, fragment);
    return [];
  },
});
