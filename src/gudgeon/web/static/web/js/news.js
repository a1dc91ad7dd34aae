/* Two at one engine: what the others have read is on this page within two seconds. Nobody's field is touched who types in it. */
"use strict";
(() => {
  const source = document.querySelector("[data-news]");
  if (!source) return;
  const EVERY = 1500;
  const MOST = 4; // lines shown; all of them are in the job
  let since = source.dataset.since;
  let again = 0;

  const formOf = (slot) => document.querySelector(`form[data-slot="${CSS.escape(slot)}"]`);
  const inUse = (form) => form.matches("[data-dirty], [data-unsaved]") || form.contains(document.activeElement);

  function show(line) {
    const list = source.querySelector("[data-others]") || document.querySelector("[data-others]");
    if (!list) return;
    const said = document.createElement("li");
    said.append(...[...line.childNodes].map((node) => node.cloneNode(true)));
    list.prepend(said);
    while (list.children.length > MOST) list.lastElementChild.remove();
  }
  function fill(form, fields) {
    for (const [name, value] of Object.entries(fields)) {
      const field = form.elements[name];
      if (!field) continue;
      if (field.type === "checkbox") field.checked = Boolean(value);
      else field.value = value;
    }
  }
  async function verdict(line) {
    const address = new URLSearchParams(JSON.parse(line.dataset.address));
    address.set("query", source.dataset.query);
    if ("one" in source.dataset) address.set("one", "");
    const answer = await fetch(`${source.dataset.place}?${address}`, { headers: { "HX-Request": "true" } });
    if (answer.ok) htmx.swap(document.body, await answer.text(), { swapStyle: "none", swapDelay: 0, settleDelay: 0 });
  }
  async function take(line) {
    show(line);
    const form = formOf(line.dataset.slotRead);
    /* A field somebody is typing in keeps what it has: the bench asks which of the two holds. */
    if (!form || form.matches("[data-dirty], [data-unsaved]")) return;
    const open = inUse(form);
    if (!open || ![...form.querySelectorAll("input:not([type=hidden], [type=checkbox])")].some((field) => field.value)) fill(form, JSON.parse(line.dataset.fields));
    if (open) document.activeElement.select?.();
    document.dispatchEvent(new CustomEvent("news:read", { detail: { form } }));
    await verdict(line);
  }
  async function ask() {
    clearTimeout(again);
    if (document.hidden) return;
    try {
      const answer = await fetch(`${source.dataset.news}?since=${since}`, { signal: AbortSignal.timeout(8000) });
      if (answer.status === 200 && answer.headers.has("Gudgeon-Since")) {
        since = answer.headers.get("Gudgeon-Since") || since;
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        for (const line of page.querySelectorAll("[data-slot-read]")) await take(line);
      }
    } catch {
      /* The bench does not answer just now; what is typed waits in the outbox, and this asks again. */
    }
    clearTimeout(again);
    again = setTimeout(ask, EVERY);
  }
  document.addEventListener("visibilitychange", ask);
  window.addEventListener("online", ask);
  again = setTimeout(ask, EVERY);
})();
