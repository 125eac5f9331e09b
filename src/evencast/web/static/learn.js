// The projector view: arrow keys follow the links that are on the page.
"use strict";

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const found = {
    ArrowLeft: "a[rel=prev]",
    ArrowRight: "a[rel=next]",
    PageUp: "a[rel=prev]",
    PageDown: "a[rel=next]",
  }[event.key] || `a[data-key="${CSS.escape(event.key)}"]`;
  const link = document.querySelector(found);
  if (!link) return;
  event.preventDefault();
  link.click();
});
