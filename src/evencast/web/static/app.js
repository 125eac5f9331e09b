// What the pages need beside htmx: changes of others, a server that is away, the theme.
"use strict";

(function () {
  const root = document.documentElement;
  const away = document.getElementById("away");
  const ended = document.getElementById("ended");

  // Changes come as events; each part of a page that shows a document asks for itself anew. A page
  // that nobody sees does not listen: a browser has six lines to a server for all its pages.
  let source = null, missed = false;
  function listen() {
    source = new EventSource("/live");
    source.addEventListener("changed", (event) => changed(JSON.parse(event.data)));
    source.addEventListener("job", (event) => {
      const number = JSON.parse(event.data).number;
      for (const part of document.querySelectorAll(`[data-job="${number}"]`)) htmx.trigger(part, "changed");
    });
    source.addEventListener("open", back);
    source.addEventListener("error", (event) => {
      const isOver = event.target.readyState === EventSource.CLOSED; // the server answered, and refused
      if (isOver && ended) ended.hidden = false;
      if (away) away.hidden = isOver;
    });
  }
  async function back() {
    const was = missed || (away && !away.hidden);
    if (source && source.readyState === EventSource.OPEN && away) { away.hidden = true; missed = false; }
    const sent = await sendWaiting();
    if (!was && !sent) return;
    for (const part of document.querySelectorAll("[data-document]")) changed({ document: part.dataset.document, number: Infinity });
    for (const part of document.querySelectorAll("[data-job]")) htmx.trigger(part, "changed");
  }
  function seen() {
    source?.close();
    source = null;
    if (document.visibilityState === "visible") listen(); else missed = true;
  }

  // A save is told to every page, also to the one that waits for its answer: what would take the form
  // away under that answer waits until it stands. So it does while the balance is dragged or asked for,
  // and while a part that asked before the save has no answer yet: the part that comes has not heard of it.
  const later = [];
  let busy = 0, asking = 0;
  function changed(told) {
    if (busy || asking) { later.push(told); return; }
    for (const part of document.querySelectorAll("[data-document]")) {
      const own = part.dataset.document === String(told.document);
      const newer = Number(part.dataset.revision || 0) < told.number;
      if (own ? newer : part.dataset.bundle === String(told.bundle)) htmx.trigger(part, "changed");
    }
  }
  const isPost = (event) => event.detail.requestConfig.verb === "post";
  function release() {
    busy -= 1;
    replay();
  }
  function replay() {
    if (!busy && !asking) for (const told of later.splice(0)) changed(told);
  }
  document.body.addEventListener("htmx:beforeSend", (event) => {
    const post = isPost(event), { elt, xhr } = event.detail;
    if (elt.dataset.document && !post) {
      asking += 1;
      xhr.addEventListener("loadend", () => setTimeout(() => { asking -= 1; replay(); }, htmx.config.defaultSettleDelay));
    }
    if (!post && elt.id !== "balance-form") return;
    busy += 1;
    if (post) {
      const config = event.detail.requestConfig, sent = saying;
      config.isAsSent = () => nowSaid(sent) === sent.said;  // else the next is being typed there
      underWay = { ...sent, config, since: performance.now() };
    }
    xhr.addEventListener("loadend", () => setTimeout(() => {
      if (post) { underWay = null; next(); }
      release();
    }, htmx.config.defaultSettleDelay));
  });

  // One save at a time from one page: what is tapped meanwhile waits for the answer, and is sent from
  // the page that came with it, where the same thing is still there to tap. The same form twice is sent
  // once, unless it counts.
  const taps = [];
  let underWay = null, saying = null;
  const bodyOf = (elt, by) => {
    const body = new URLSearchParams(new FormData(elt.closest("form") || undefined));
    if (by && by.name) body.append(by.name, by.value);
    return body;
  };
  const sends = (elt, body) => {
    const said = new URLSearchParams(body);
    for (const name of ["based_on", "form_token", "now"]) said.delete(name);
    return `${elt.getAttribute("hx-post")}?${said}`;
  };
  document.body.addEventListener("htmx:confirm", (event) => {
    const { elt, verb, triggeringEvent, issueRequest } = event.detail;
    if (verb !== "post") return;
    const by = elt.tagName === "FORM" ? triggeringEvent?.submitter : elt;
    const body = bodyOf(elt, by), said = sends(elt, body);
    const tap = { elt, by, issueRequest, body, said };
    if (!underWay) { saying = tap; return; }
    event.preventDefault();
    const twice = [underWay, ...taps].some((each) => each.elt === elt && each.said === said);
    if (twice && !elt.matches("[data-counts]")) return;
    taps.push(tap);
  });
  const nowSaid = ({ elt, by }) => sends(elt, bodyOf(elt, by));
  function again({ by, said }) {
    const alike = [...document.querySelectorAll("button:enabled")].filter((each) => each.name === (by?.name ?? "") && each.value === (by?.value ?? ""));
    return alike.find((each) => {
      const sender = each.closest("[hx-post]");
      return sender && sends(sender, bodyOf(sender, each)) === said;
    });
  }
  // What was typed says by itself what is meant, also where another thing stands in its form by now.
  const isTyped = (elt) => elt.closest("form")?.querySelector("input:not([type=hidden]), select, textarea") && !holdsFile(elt);
  function next() {
    while (taps.length && !underWay) {
      const tap = taps.shift(), isThere = tap.elt.isConnected && nowSaid(tap) === tap.said;
      const button = isThere ? null : again(tap);
      if (isThere) { saying = tap; tap.issueRequest(); }
      else if (button) button.click();
      else if (isTyped(tap.elt)) { add(tap.elt.getAttribute("hx-post"), tap.body, tap.elt); back(); }
      else {
        say("The page has changed since that was tapped: it was not done. Look, and tap again.");
        document.getElementById("refused").scrollIntoView({ block: "start" });
      }
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
  // sent when the laptop is back; files cannot wait and stay in their form. So does what is on its
  // way for long, or waits for what is, when the page is left.
  const waiting = () => JSON.parse(localStorage.getItem("waiting") || "[]");
  function showWaiting() {
    const count = waiting().length, told = document.getElementById("waiting");
    if (told) told.textContent = count ? ` ${count === 1 ? "One change waits" : `${count} changes wait`} on this device and will be sent.` : "";
    if (!count) document.getElementById("kept")?.remove();
  }
  function put(list) {
    localStorage.setItem("waiting", JSON.stringify(list));
    showWaiting();
  }
  const holdsFile = (elt) => elt.closest("form")?.querySelector("input[type=file]");
  const add = (path, body, elt) => put([...waiting(), { path, body: new URLSearchParams(body).toString(), counts: elt.matches("[data-counts]") }]);
  function putAside(event) {
    if (away) away.hidden = false;
    const config = event.detail.requestConfig, elt = config.elt;
    const form = elt.closest("form");
    if (config.verb !== "post" || !form || !config.parameters.based_on) return;
    if (holdsFile(form)) { say("The file was not sent: the laptop does not answer. It is still in its form; send it again."); return; }
    add(config.path, config.formData, elt);
    form.closest(".tray")?.replaceChildren();
    if (form.isConnected && config.isAsSent()) { form.reset(); htmx.trigger(form, "put-aside"); }
    say("Kept on this device; it will be sent when the laptop is back.").id = "kept";
  }
  const LONG_MS = 1000;
  window.addEventListener("pagehide", () => {
    const { elt, config, since } = underWay || {};
    const isLong = taps.length || performance.now() - since > LONG_MS;  // the server knows what it has already
    if (config?.parameters.based_on && isLong && !holdsFile(elt)) add(config.path, config.formData, elt);
    for (const { elt: tapped, body } of taps.splice(0)) if (body.get("based_on")) add(tapped.getAttribute("hx-post"), body, tapped);
  });
  function say(text) {
    const refused = document.getElementById("refused"), told = document.createElement("p");
    told.className = "mind";
    told.textContent = text;
    refused.replaceChildren(told);
    return told;
  }
  // What else was done here on the same revision was done after this: it is based on what this made,
  // unless somebody else came between. What only counts is put on top of that too.
  function afterwards(first, revision, rest) {
    const asked = new URLSearchParams(first.body).get("based_on"), document = first.path.match(/^\/\w+\/\d+/)?.[0];
    if (!revision || !document) return rest;
    return rest.map((each) => {
      const body = new URLSearchParams(each.body);
      if (!each.path.startsWith(`${document}/`) || body.get("based_on") !== asked) return each;
      if (!each.counts && Number(revision) !== Number(asked) + 1) return each;
      body.set("based_on", revision);
      return { ...each, body: body.toString(), asMade: each.body };
    });
  }
  const ours = ["based_on", "form_token", "setup", "balance", "now"];
  function saidIn(body) {
    const told = [...new URLSearchParams(body)].filter(([name, value]) => value && !ours.includes(name)).map(([name, value]) => `${name} ${value}`);
    return told.length ? `It waited on this device: ${told.join(", ")}.` : "";
  }
  // Of several pages on one device one sends; a browser's own locks are for https only.
  const me = Math.random().toString(36).slice(2);
  function mayI() {
    const [who, until_ms] = (localStorage.getItem("sender") || "nobody 0").split(" ");
    if (who !== me && Date.now() < Number(until_ms)) return false;
    localStorage.setItem("sender", `${me} ${Date.now() + htmx.config.timeout}`);
    return true;
  }
  let sending = false;
  async function sendWaiting() {
    if (sending || !waiting().length || !mayI()) return false;
    sending = true;
    let sent = 0;
    const refused = document.getElementById("refused");
    const headers = { "Content-Type": "application/x-www-form-urlencoded", "HX-Request": "true", ...JSON.parse(document.body.getAttribute("hx-headers")) };
    try {
      while (waiting().length && mayI()) {
        const first = waiting()[0];
        const reply = await fetch(first.path, { method: "POST", body: first.body, headers, signal: AbortSignal.timeout(htmx.config.timeout) });
        if (!sent) refused.replaceChildren();
        // Who is not in any more, or a server in trouble: it stays waiting, and is tried again.
        const stays = reply.status === 401 || reply.status === 403 || reply.status >= 500;
        if (first.asMade && reply.status >= 400 && !stays) { put([{ ...first, body: first.asMade, asMade: null }, ...waiting().slice(1)]); continue; }
        sent += 1;
        if (reply.status >= 400) {
          const shown = document.createElement("div"), told = document.createElement("p");
          shown.innerHTML = await reply.text();
          for (const each of shown.querySelectorAll("[id], [for]")) for (const name of ["id", "for"]) each.removeAttribute(name);  // the page has these itself
          told.textContent = reply.status === 409 ? "" : saidIn(first.body);  // a clash shows both
          shown.append(told);
          refused.append(shown);
          htmx.process(shown);
          refused.scrollIntoView({ block: "start" });
        }
        if (stays) break;
        put(afterwards(first, reply.headers.get("evencast-revision"), waiting().slice(1)));
      }
    } catch { if (away) away.hidden = false; }
    sending = false;
    localStorage.removeItem("sender");
    return sent > 0;
  }
  document.body.addEventListener("htmx:sendError", putAside);
  document.body.addEventListener("htmx:timeout", putAside);
  window.addEventListener("storage", showWaiting);
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

  if (document.body.dataset.live) {
    seen();
    document.addEventListener("visibilitychange", seen);
    window.addEventListener("online", back);
    setInterval(() => { if (source && waiting().length) back(); }, 2000);
  }
})();
