// What the plan page needs beside app.js: the last values of this device, the clock, sheets as
// chips, files dropped on a light, trays that open and close.
"use strict";

(function () {
  const main = document.getElementById("main");
  const kept = (name) => localStorage.getItem(`last-${name}`);

  function wake(inside) {
    for (const each of inside.querySelectorAll("input[data-keep]")) if (kept(each.dataset.keep) === each.value) each.checked = true;
    for (const each of inside.querySelectorAll("input[data-remember]")) if (!each.value) each.value = kept(each.dataset.remember) || "";
  }
  wake(main);
  document.body.addEventListener("htmx:load", (event) => wake(event.target));
  document.body.addEventListener("put-aside", (event) => wake(event.target));
  main.addEventListener("change", (event) => {
    const field = event.target;
    if (field.dataset.keep) localStorage.setItem(`last-${field.dataset.keep}`, field.value);
    if (field.dataset.remember) localStorage.setItem(`last-${field.dataset.remember}`, field.value);
  });

  // The time of a reading is that of the device it was typed on, with its offset from UTC.
  function now() {
    const at = new Date(), two = (number) => String(Math.trunc(Math.abs(number))).padStart(2, "0");
    const away = -at.getTimezoneOffset();
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${two(at.getHours())}:${two(at.getMinutes())}${away < 0 ? "-" : "+"}${two(away / 60)}:${two(away % 60)}`;
  }
  document.body.addEventListener("htmx:configRequest", (event) => {
    if ("now" in event.detail.parameters) event.detail.parameters.now = now();
  });

  // A tray opens with its first field ready, and closes on its own button or with Escape.
  document.body.addEventListener("htmx:afterSettle", (event) => {
    const opened = event.target;
    if (!opened.matches || !opened.matches(".tray")) return;
    const first = opened.querySelector("[aria-invalid]") || opened.querySelector("input:not([type=hidden]), select, button");
    if (first) first.focus();
  });
  function close(tray) {
    const button = document.getElementById(`read-${tray.id}`);
    tray.replaceChildren();
    if (button) button.focus();
  }
  main.addEventListener("click", (event) => {
    const closer = event.target.closest("[data-close]"), tray = closer && closer.closest(".tray");
    if (tray) { event.preventDefault(); close(tray); }
    const to = event.target.closest("[data-focus]");
    if (to) { event.preventDefault(); const field = document.getElementById(to.dataset.focus); field.scrollIntoView({ block: "center" }); field.focus(); }
    const chip = event.target.closest("[data-sheet]");
    if (chip) take(chip);
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    const form = document.querySelector(".tray form");  // also while the focus is not there yet
    const tray = event.target.closest(".tray") || (form && form.closest(".tray"));
    if (tray) close(tray);
  });

  // Sheets in the order they are tapped, from the lamp outwards; tapped again, out.
  function take(chip) {
    const field = document.getElementById(chip.parentElement.dataset.sheets);
    const there = field.value.split(";").map((each) => each.trim()).filter(Boolean);
    const at = there.indexOf(chip.dataset.sheet);
    if (at < 0) there.push(chip.dataset.sheet); else there.splice(at, 1);
    field.value = there.join("; ");
    for (const each of chip.parentElement.children) each.setAttribute("aria-pressed", String(there.includes(each.dataset.sheet)));
  }

  // The chart follows when a drag or an edit is done.
  document.body.addEventListener("htmx:afterSettle", (event) => {
    const plan = document.getElementById("plan"), state = document.querySelector(".top .state");
    if (plan && plan.dataset.revision) state.textContent = `saved, revision ${plan.dataset.revision}`;
    const by = event.detail.requestConfig, rest = document.getElementById("rest");
    if (rest && by && (by.verb === "post" || by.path.includes("/answer"))) htmx.trigger(rest, "stale");
  });

  // The slider follows the balance that is shown, unless a hand is on it (which need not give it the
  // focus) or what it asked for last is under way.
  document.body.addEventListener("htmx:afterSettle", () => {
    const tools = document.getElementById("balance-tools"), slider = document.getElementById("mired"), asked = document.getElementById("asked");
    if (!tools || !slider) return;
    const led = document.activeElement === slider || "dragged" in document.body.dataset || slider.form.matches(".htmx-request");
    if (!led && Number(tools.dataset.mired)) slider.value = tools.dataset.mired;
    slider.setAttribute("aria-valuetext", tools.dataset.told);
    if (asked) asked.value = tools.dataset.asked;
    for (const field of document.querySelectorAll("#main form input[name=balance][type=hidden]")) field.value = tools.dataset.asked;
  });

  // A file dropped on a light.
  for (const name of ["dragover", "dragleave", "drop"]) main.addEventListener(name, (event) => {
    const row = event.target.closest("[data-drop]");
    if (!row) return;
    event.preventDefault();
    row.classList.toggle("dropping", name === "dragover");
    if (name !== "drop" || !event.dataTransfer.files.length) return;
    const plan = document.getElementById("plan"), where = document.getElementById("where");
    htmx.ajax("POST", `/plan/${plan.dataset.document}/file`, {
      source: row, target: "#plan", swap: "outerHTML",
      values: { content: event.dataTransfer.files[0], light: row.dataset.drop, based_on: plan.dataset.revision, setup: where.setup.value, balance: where.balance.value },
    });
  });
})();
