/* The page: it searches, picks the balance and shows the small sums. All else is text already. */
(() => {
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const one = (selector) => document.querySelector(selector);
  for (const each of all("[data-script]")) each.hidden = false;

  /* A field as the sums take it. */
  const described = (input) => ({
    key: input.dataset.key,
    text: input.value,
    choice: input.tagName === "SELECT",
    name: input.dataset.name,
    unit: input.dataset.unit,
    example: input.dataset.example,
    least: Number(input.dataset.least),
    most: Number(input.dataset.most),
    whole: "whole" in input.dataset,
  });

  /* Search. */
  const found = all("[data-find]").map((node) => {
    const told = node.querySelector("summary") || node;
    return { node, text: folded(told.textContent) };
  });
  const parts = all("[data-part]");
  const rest = all("[data-rest]");
  const search = one("#search");
  const count = one("#found");
  const look = () => {
    const words = folded(search.value).split(" ").filter(Boolean);
    let shown = 0;
    for (const { node, text } of found) {
      node.hidden = !words.every((word) => text.includes(word));
      shown += node.hidden ? 0 : 1;
    }
    for (const part of parts) {
      part.hidden = words.length > 0 && !part.querySelector("[data-find]:not([hidden])");
    }
    for (const each of rest) each.hidden = words.length > 0;
    if (words.length) one("#main").scrollIntoView();
    count.textContent = words.length ? `${shown} of ${found.length} found` : "";
  };
  search.addEventListener("input", look);
  search.addEventListener("keydown", (event) => {
    if (event.key === "Escape") { search.value = ""; look(); }
  });

  /* The balance. */
  const balance = one("#balance");
  const pick = () => {
    const told = typed(balance.value, described(balance));
    one("#balance-told").textContent = told.error || "";
    if (told.error) return;
    const at = String(50 * say.whole(told.value / 50));
    one("#balance-told").textContent = Number(at) === told.value ? "" : `Told for ${at} K, the nearest step.`;
    for (const each of all("[data-help]")) {
      const row = each.querySelector(`[data-k="${at}"]`);
      each.querySelector("[data-picked]").replaceChildren(...row.cloneNode(true).childNodes);
    }
  };
  if (balance) {
    balance.addEventListener("input", pick);
    pick();
  }

  /* The small sums. */
  const work = (sum) => {
    const { wrong, lines } = answered(sum.dataset.sum, all("[data-key]", sum).map(described));
    const output = sum.querySelector("output");
    output.classList.toggle("wrong", wrong);
    output.replaceChildren(...lines.map((line) => {
      const paragraph = document.createElement("p");
      paragraph.textContent = line;
      return paragraph;
    }));
  };
  for (const sum of all("[data-sum]")) {
    sum.addEventListener("input", () => work(sum));
    work(sum);
  }

  /* Plus and minus beside every field. */
  for (const button of all("button[data-step]")) {
    button.addEventListener("click", () => {
      const input = document.getElementById(button.getAttribute("aria-controls"));
      const { least, most } = input.dataset;
      input.value = stepped(input.value, button.dataset.step, Number(least), Number(most));
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
  }

  /* A light that is come to while the search hides it. */
  const arrive = () => {
    const light = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (light && light.closest("[hidden]")) { search.value = ""; look(); light.scrollIntoView(); }
  };
  window.addEventListener("hashchange", arrive);
  arrive();
})();
