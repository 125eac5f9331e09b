// Plus and minus beside a field go along the values that are usual for it.
"use strict";

(function () {
  const size = (text) => parseFloat(String(text).replace(/^f\//, "").replace(",", "."));
  function show() {
    for (const each of document.querySelectorAll("[data-along][hidden]")) each.hidden = false;
  }
  document.addEventListener("click", (event) => {
    const step = event.target.closest("[data-along]");
    if (!step) return;
    const field = document.getElementById(step.dataset.for);
    const values = field.dataset.values.split(" ");
    const now = size(field.value);
    let next;
    if (Number.isNaN(now)) next = values[Math.floor(values.length / 3)];
    else if (step.dataset.along === "1") next = values.find((each) => size(each) > now + 1e-9) || values[values.length - 1];
    else next = values.filter((each) => size(each) < now - 1e-9).pop() || values[0];
    field.value = next;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  });
  document.addEventListener("htmx:load", show);
  show();
})();
