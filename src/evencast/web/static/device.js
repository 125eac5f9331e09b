// What stays on this device: fields that are filled as last time, and times as they are read here.
"use strict";

(function () {
  function show() {
    for (const field of document.querySelectorAll("[data-remember]")) {
      const kept = localStorage.getItem(`field ${field.dataset.remember}`);
      if (kept !== null && !field.dataset.filled && (!field.value || field.tagName === "SELECT") && !location.search) field.value = kept;
      field.dataset.filled = "yes";
    }
    for (const time of document.querySelectorAll("time[datetime]:not([data-local])")) {
      const at = new Date(time.dateTime);
      if (!isNaN(at)) time.textContent = at.toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
      time.dataset.local = "yes";
    }
  }
  document.addEventListener("change", (event) => {
    const field = event.target.closest("[data-remember]");
    if (field) localStorage.setItem(`field ${field.dataset.remember}`, field.value);
  });
  document.addEventListener("htmx:load", show);
  show();

  // Files that are dropped on a form go into its field.
  for (const kind of ["dragover", "drop"]) {
    document.addEventListener(kind, (event) => {
      const place = event.target.closest("[data-drop]");
      if (!place || !event.dataTransfer.types.includes("Files")) return;
      event.preventDefault();
      place.classList.toggle("over", kind === "dragover");
      if (kind === "drop") {
        const field = place.querySelector("input[type=file]");
        field.files = event.dataTransfer.files;
        field.dispatchEvent(new Event("change", { bubbles: true }));
      }
    });
  }
  document.addEventListener("dragleave", (event) => {
    const place = event.target.closest("[data-drop]");
    if (place) place.classList.remove("over");
  });
})();
