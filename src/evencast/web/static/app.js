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
      const told = JSON.parse(event.data);
      document.body.dispatchEvent(new CustomEvent("document-changed", { detail: told }));
      changed(told);
    });
    source.addEventListener("job", (event) => {
      const number = JSON.parse(event.data).number;
      for (const part of document.querySelectorAll(`[data-job="${number}"]`)) htmx.trigger(part, "changed");
    });
    async function back() {
      const was = away && !away.hidden;
      if (source.readyState === EventSource.OPEN && away) away.hidden = true;
      const sent = await sendWaiting();
      if (was || sent) for (const part of document.querySelectorAll("[data-document]")) htmx.trigger(part, "changed");
    }
    source.addEventListener("open", back);
    window.addEventListener("online", back);
    setInterval(() => { if (waiting().length) back(); }, 2000);
    source.addEventListener("error", () => {
      const isOver = source.readyState === EventSource.CLOSED; // the server answered, and refused
      if (isOver && ended) ended.hidden = false;
      if (away) away.hidden = isOver;
    });
  }


  // A save is told to every page, also to the one that waits for its answer: what would take the form
  // away under that answer waits until it stands. So it does while the balance is dragged.
  const later = [];
  let busy = 0;
  function changed(told) {
    if (busy) { later.push(told); return; }
    for (const part of document.querySelectorAll("[data-document]")) {
      const own = part.dataset.document === String(told.document);
      const newer = Number(part.dataset.revision || 0) < told.number;
      if (own ? newer : part.dataset.bundle === String(told.bundle)) htmx.trigger(part, "changed");
    }
  }
  const isPost = (event) => event.detail.requestConfig.verb === "post";
  const holds = (event) => isPost(event) || event.detail.elt.id === "balance-form";
  function release() {
    busy -= 1;
    if (!busy) for (const told of later.splice(0)) changed(told);
  }
  const settled_ms = htmx.config.defaultSettleDelay;
  document.body.addEventListener("htmx:beforeSend", (event) => { if (holds(event)) busy += 1; });
  document.body.addEventListener("htmx:afterRequest", (event) => { if (holds(event)) setTimeout(release, settled_ms); });
  let held = false;
  document.body.addEventListener("pointerdown", (event) => {
    if (event.target.id !== "mired" || held) return;
    held = true;
    busy += 1;
    document.body.dataset.dragged = "";
  });
  for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => {
    if (!held) return;
    held = false;
    setTimeout(() => { delete document.body.dataset.dragged; release(); }, 200);  // the slider tells of its last place only after this
  });

  // A refusal is an answer too: it is shown where the server says, else above the page.
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    const { xhr, elt } = event.detail;
    if (busy && !isPost(event) && elt.dataset.document) {
      event.detail.shouldSwap = false;
      later.push({ document: elt.dataset.document, number: Infinity });
      return;
    }
    if (xhr.getResponseHeader("HX-Retarget")) {
      event.detail.shouldSwap = true;
      event.detail.isError = false;
    } else if (xhr.status >= 400) {
      event.detail.shouldSwap = true;
      event.detail.isError = false;
      event.detail.target = document.getElementById("refused") || event.detail.target;
      event.detail.swapOverride = "innerHTML";
    }
    if (xhr.status >= 400) event.detail.target.scrollIntoView({ block: "start" });
    else if (event.detail.requestConfig.verb === "post") document.getElementById("refused")?.replaceChildren();
    keep(event);
  });
  document.body.addEventListener("htmx:afterSwap", restore);
  // What is told of a field under it is told anew; only now does the field hear.
  const toTell = [];
  document.body.addEventListener("htmx:afterSettle", () => {
    for (const each of toTell.splice(0)) each.dispatchEvent(new Event("input"));
  });

  // A part that is fetched anew keeps what is open in it, where the cursor stands, what is typed.
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
    const sender = event.detail.requestConfig.elt.closest("form");
    const done = event.detail.requestConfig.verb === "post" && event.detail.xhr.status < 400 ? sender : null;
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

  // What cannot be sent now waits on this device, with the revision that it was based on, and is
  // sent when the laptop is back; files cannot wait and stay in their form.
  const waiting = () => JSON.parse(localStorage.getItem("waiting") || "[]");
  function showWaiting() {
    const count = waiting().length, told = document.getElementById("waiting");
    if (told) told.textContent = count ? ` ${count === 1 ? "One change waits" : `${count} changes wait`} on this device and will be sent.` : "";
  }
  function putAside(event) {
    if (away) away.hidden = false;
    const config = event.detail.requestConfig, elt = config.elt;
    const form = elt.closest("form");
    if (config.verb !== "post" || !form || !config.parameters.based_on) return;
    if (form.querySelector("input[type=file]")) { say("The file was not sent: the laptop does not answer. It is still in its form; send it again."); return; }
    const body = new URLSearchParams();
    for (const [name, value] of config.formData.entries()) body.append(name, value);
    localStorage.setItem("waiting", JSON.stringify([...waiting(), { path: config.path, body: body.toString() }]));
    form.closest(".tray")?.replaceChildren();
    if (form.isConnected) { form.reset(); htmx.trigger(form, "put-aside"); }
    showWaiting();
    say("Kept on this device; it will be sent when the laptop is back.");
  }
  function say(text) {
    const refused = document.getElementById("refused"), told = document.createElement("p");
    told.className = "mind";
    told.textContent = text;
    refused.replaceChildren(told);
  }
  let sending = false;
  async function sendWaiting() {
    if (sending) return false;
    sending = true;
    let sent = 0;
    const refused = document.getElementById("refused");
    try {
      while (waiting().length) {
        const [first, ...rest] = waiting();
        const reply = await fetch(first.path, { method: "POST", body: first.body, headers: { "Content-Type": "application/x-www-form-urlencoded", "HX-Request": "true" } });
        if (!sent) refused.replaceChildren();
        sent += 1;
        if (reply.status >= 400) {
          const shown = document.createElement("div");
          shown.innerHTML = await reply.text();
          refused.append(shown);
          htmx.process(shown);
        }
        // Who is not in any more, or a server in trouble: it stays waiting, and is tried again.
        if (reply.status === 401 || reply.status === 403 || reply.status >= 500) break;
        localStorage.setItem("waiting", JSON.stringify(rest));
      }
    } catch { if (away) away.hidden = false; }
    sending = false;
    showWaiting();
    return sent > 0;
  }
  document.body.addEventListener("htmx:sendError", putAside);
  document.body.addEventListener("htmx:timeout", putAside);
  showWaiting();

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
  const theme = localStorage.getItem("theme");
  if (theme) root.dataset.theme = theme;
  document.body.addEventListener("click", (event) => {
    if (!event.target.closest("[data-theme-switch]")) return;
    const isLight = root.dataset.theme ? root.dataset.theme === "light" : matchMedia("(prefers-color-scheme: light)").matches;
    root.dataset.theme = isLight ? "dark" : "light";
    localStorage.setItem("theme", root.dataset.theme);
  });

  if (document.body.dataset.live) listen();
})();
