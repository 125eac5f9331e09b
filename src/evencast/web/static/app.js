// What the pages need beside htmx: changes of others, a server that is away, the theme.
"use strict";

(function () {
  const root = document.documentElement;
  const away = document.getElementById("away");
  const ended = document.getElementById("ended");

  // Changes come as events; each part of a page that shows a document asks for itself anew.
  function listen() {
    const source = new EventSource("/live");
    source.addEventListener("changed", (event) => {
      document.body.dispatchEvent(new CustomEvent("document-changed", { detail: JSON.parse(event.data) }));
      for (const part of document.querySelectorAll("[data-document]")) {
        if (part.dataset.document === String(JSON.parse(event.data).document)) htmx.trigger(part, "changed");
      }
    });
    source.addEventListener("job", (event) => {
      const number = JSON.parse(event.data).number;
      for (const part of document.querySelectorAll(`[data-job="${number}"]`)) htmx.trigger(part, "changed");
    });
    source.addEventListener("open", () => {
      if (away && !away.hidden) {
        away.hidden = true;
        for (const part of document.querySelectorAll("[data-document]")) htmx.trigger(part, "changed");
      }
    });
    source.addEventListener("error", () => {
      const isOver = source.readyState === EventSource.CLOSED; // the server answered, and refused
      if (isOver && ended) ended.hidden = false;
      if (away) away.hidden = isOver;
    });
  }
  if (document.body.dataset.live) listen();

  // A refusal is an answer too: it is shown where the answer would have stood, or above the page.
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    const status = event.detail.xhr.status;
    if (status >= 400 && status !== 409) {
      event.detail.shouldSwap = true;
      event.detail.isError = false;
      event.detail.target = document.getElementById("refused") || event.detail.target;
      event.detail.swapOverride = "innerHTML";
    } else if (status === 409) {
      event.detail.shouldSwap = true;
      event.detail.isError = false;
    } else {
      const refused = document.getElementById("refused");
      if (refused) refused.replaceChildren();
    }
  });

  // What cannot be sent now is kept in its form and said, never lost silently.
  document.body.addEventListener("htmx:sendError", (event) => {
    if (away) away.hidden = false;
    const form = event.detail.elt.closest("form") || event.detail.elt;
    form.setAttribute("data-unsent", "");
  });
  document.body.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.successful) (event.detail.elt.closest("form") || event.detail.elt).removeAttribute("data-unsent");
  });

  // Steps beside a number or a slider.
  document.body.addEventListener("click", (event) => {
    const step = event.target.closest("[data-step]");
    if (!step) return;
    const field = document.getElementById(step.dataset.for);
    field.value = String(Number(field.value || 0) + Number(step.dataset.step));
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  });

  // The theme stays on this device.
  const kept = localStorage.getItem("theme");
  if (kept) root.dataset.theme = kept;
  document.body.addEventListener("click", (event) => {
    if (!event.target.closest("[data-theme-switch]")) return;
    const isLight = root.dataset.theme ? root.dataset.theme === "light" : matchMedia("(prefers-color-scheme: light)").matches;
    root.dataset.theme = isLight ? "dark" : "light";
    localStorage.setItem("theme", root.dataset.theme);
  });
})();
