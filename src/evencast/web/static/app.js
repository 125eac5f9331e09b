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
  // away under that answer waits until it stands. So it does while the balance is dragged or asked for.
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
  function release() {
    busy -= 1;
    if (!busy) for (const told of later.splice(0)) changed(told);
  }
  document.body.addEventListener("htmx:beforeSend", (event) => {
    const post = isPost(event), { elt, xhr } = event.detail;
    if (!post && elt.id !== "balance-form") return;
    busy += 1;
    if (post) underWay = elt;
    xhr.addEventListener("loadend", () => setTimeout(() => {
      if (post) { underWay = null; next(); }
      release();
    }, htmx.config.defaultSettleDelay));
  });

  // One save at a time from one page: what is tapped meanwhile waits for the answer, and is sent from
  // the page that came with it, where the same thing is still there to tap. The same form twice is sent
  // once, unless it counts.
  const taps = [];
  let underWay = null;
  const sends = (elt, submitter) => {
    const form = elt.closest("form"), data = new FormData(form || undefined);
    for (const name of ["based_on", "form_token", "now"]) data.delete(name);
    if (submitter && submitter.name) data.append(submitter.name, submitter.value);
    return `${elt.getAttribute("hx-post")}?${new URLSearchParams(data)}`;
  };
  document.body.addEventListener("htmx:confirm", (event) => {
    const { elt, verb, triggeringEvent, issueRequest } = event.detail;
    if (verb !== "post" || !underWay) return;
    event.preventDefault();
    const by = elt.tagName === "FORM" ? triggeringEvent?.submitter : elt;
    const twice = elt === underWay || taps.some((each) => each.elt === elt);
    if (twice && !elt.matches("[data-counts]")) return;
    taps.push({ elt, by, issueRequest, sent: sends(elt, by) });
  });
  function again({ by, sent }) {
    const alike = [...document.querySelectorAll("button:enabled")].filter((each) => each.name === (by?.name ?? "") && each.value === (by?.value ?? ""));
    return alike.find((each) => each.closest("[hx-post]") && sends(each.closest("[hx-post]"), each) === sent);
  }
  function next() {
    while (taps.length && !underWay) {
      const tap = taps.shift(), button = tap.elt.isConnected ? null : again(tap);
      if (tap.elt.isConnected) tap.issueRequest();
      else if (button) button.click();
      else say("The page has changed since that was tapped: it was not done. Look, and tap again.");
    }
  }

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
  });
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
