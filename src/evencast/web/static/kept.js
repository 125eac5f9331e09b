// A part that is fetched anew keeps what is open in it, where the cursor stands, what is typed.
"use strict";

(function () {
  let kept = null;
  const called = (field) => `${field.form ? field.form.id || field.form.getAttribute("action") : ""}|${field.id || field.name}|${/radio|checkbox/.test(field.type) ? field.value : ""}`;
  const ticks = (field) => /radio|checkbox/.test(field.type);
  const fields = () => document.querySelectorAll("#main input:not([type=hidden]):not([type=file]), #main select, #main textarea");
  function isTyped(field) {
    if (ticks(field)) return field.checked !== field.defaultChecked;
    if (field.tagName === "SELECT") return [...field.options].some((each) => each.selected !== each.defaultSelected);
    return field.value !== field.defaultValue;
  }
  function keep(event) {
    const { elt, verb, isAsSent } = event.detail.requestConfig;
    const done = verb === "post" && event.detail.xhr.status < 400 && isAsSent() ? elt.closest("form") : null;
    if (done && done.closest(".tray")) done.closest(".tray").remove();
    const at = document.activeElement, target = event.detail.target;
    const parts = [...document.querySelectorAll(".tray[id]:not(:empty), #rest")].filter((each) => each !== target && target.contains(each));
    kept = {
      parts: new Map(parts.map((each) => [each.id, each])),
      open: new Map([...document.querySelectorAll("details[id]")].map((each) => [each.id, each.open])),
      typed: new Map([...fields()].filter((each) => each.form !== done && isTyped(each)).map((each) => [called(each), ticks(each) ? each.checked : each.value])),
      at: at && at.form !== done ? at.id : "",
      range: at && /^(text|search|)$/.test(at.type || "x") && at.tagName !== "BUTTON" ? [at.selectionStart, at.selectionEnd] : null,
    };
    for (const each of parts) each.remove();
  }
  function restore() {
    if (!kept) return;
    const { parts, open, typed, at, range } = kept;
    kept = null;
    for (const each of document.querySelectorAll("[data-kept]")) if (parts.has(each.id) && parts.get(each.id) !== each) each.replaceWith(parts.get(each.id));
    for (const each of document.querySelectorAll("details[id]")) if (open.has(each.id)) each.open = open.get(each.id);
    for (const each of fields()) {
      const value = typed.get(called(each));
      if (value === undefined) continue;
      if (ticks(each)) each.checked = value; else if (each.value !== value) each.value = value;
      if (each.hasAttribute("hx-get")) toTell.push(each);
    }
    const there = at && document.getElementById(at);
    if (there && document.activeElement !== there && document.activeElement === document.body) {
      there.focus({ preventScroll: true });
      if (range && range[0] !== null && there.setSelectionRange) there.setSelectionRange(range[0], range[1]);
    }
  }

  document.body.addEventListener("htmx:beforeSwap", (event) => { if (event.detail.shouldSwap) keep(event); });
  document.body.addEventListener("htmx:afterSwap", restore);
  // What is told of a field under it is told anew; only now does the field hear.
  const toTell = [];
  document.body.addEventListener("htmx:afterSettle", () => {
    for (const each of toTell.splice(0)) each.dispatchEvent(new Event("input"));
  });
})();
