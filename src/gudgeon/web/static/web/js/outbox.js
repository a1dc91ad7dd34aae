/* The outbox: what was typed goes out once and in order, and waits on this device while the bench does not answer. */
"use strict";
(() => {
  const QUEUE = "gudgeon.outbox";
  const DRAFTS = "gudgeon.drafts";
  const WAITS = [1, 2, 4, 8, 15].map((seconds) => 1000 * seconds);
  const PATIENCE = 15000; // then the answer is given up; the same entry goes out again and is counted once
  const LATE = 3000;
  const TRIES = 4;
  const HERE_ONLY = `on this ${matchMedia("(pointer: coarse), (max-width: 55rem)").matches ? "phone" : "computer"} only`;
  const tab = sessionStorage.getItem("gudgeon.tab") || Math.random().toString(36).slice(2);
  sessionStorage.setItem("gudgeon.tab", tab);

  const kept = {}; // what the browser had no room for
  const load = (key, empty) => {
    try { return kept[key] || JSON.parse(localStorage.getItem(key)) || empty; } catch { return empty; }
  };
  function store(key, value) {
    try {
      localStorage.setItem(key, JSON.stringify(value));
      delete kept[key];
    } catch {
      kept[key] = value;
      if (value.length) signal("This browser has no room to keep entries: leave this page open until they are saved.");
    }
  }
  const queue = () => load(QUEUE, []);
  const mine = () => queue().filter((entry) => !entry.held && (entry.tab === tab || Date.now() - entry.at > 20000));
  const tell = (name, detail) => document.dispatchEvent(new CustomEvent(`outbox:${name}`, { detail }));

  const nameOf = (form) => form.dataset.slot || form.dataset.keep;
  const formCalled = (name) =>
    [...document.querySelectorAll("form[data-slot], form[data-keep]")].find((form) => nameOf(form) === name);
  const here = () => location.pathname;

  /* Typed and not yet sent: kept from the first keystroke, so that a reload or an empty battery loses nothing. */
  function typed(form) {
    const values = {};
    for (const field of form.elements) {
      if (!field.name || field.type === "hidden" || field.type === "file" || field.type === "submit") continue;
      if (field.type === "radio" || field.type === "checkbox") {
        if (field.checked) (values[field.name] ||= []).push(field.value);
        else values[field.name] ||= [];
      } else (values[field.name] ||= []).push(field.value);
    }
    return values;
  }
  function fill(form, values) {
    const seen = {};
    for (const field of form.elements) {
      if (!field.name || field.type === "hidden" || field.type === "file" || !(field.name in values)) continue;
      if (field.type === "radio" || field.type === "checkbox") field.checked = values[field.name].includes(field.value);
      else {
        const at = (seen[field.name] = (seen[field.name] ?? -1) + 1);
        if (at < values[field.name].length) field.value = values[field.name][at];
      }
    }
  }
  function keepDraft(form) {
    const drafts = load(DRAFTS, {});
    drafts[`${here()} ${nameOf(form)}`] = { values: typed(form), at: Date.now() };
    store(DRAFTS, drafts);
  }
  function dropDraft(path, name) {
    const drafts = load(DRAFTS, {});
    delete drafts[`${path} ${name}`];
    store(DRAFTS, drafts);
  }

  function mark(form, words) {
    const state = form.querySelector(".state");
    form.toggleAttribute("data-unsaved", Boolean(words));
    if (!state) return;
    state.textContent = words || "";
    state.classList.toggle("unsaved", Boolean(words));
  }
  function signal(words) {
    const bar = document.getElementById("signal");
    if (!bar) return;
    const held = queue().filter((entry) => entry.held);
    const said = words || (held.length ? `${held.length === 1 ? "One entry waits" : `${held.length} entries wait`} for your word: ` : "");
    bar.hidden = !said;
    if (bar.textContent !== said) bar.textContent = said;
    if (words || !held.length) return;
    const link = document.createElement("a");
    link.href = held[0].where;
    link.textContent = held[0].label;
    bar.append(link);
  }

  function enqueue(form, button) {
    const fields = [...new FormData(form)].filter(([name, value]) => typeof value === "string" && name !== "typed");
    if (button?.name) fields.push([button.name, button.value]);
    fields.push(["typed", String(Date.now())]);
    const entries = queue();
    entries.push({
      id: `${tab}-${Date.now()}-${entries.length}`, tab, at: Date.now(), path: here(), name: nameOf(form),
      url: form.action, fields, values: typed(form), page: form.hasAttribute("data-keep"), settles: form.dataset.settles,
      where: form.closest("[data-address]")?.dataset.address || location.pathname + location.search,
      label: (form.closest("section")?.querySelector("h2") || document.querySelector("h1")).textContent.trim(),
    });
    store(QUEUE, entries);
    form.removeAttribute("data-dirty");
    form.querySelector(".twice")?.remove();
    mark(form, HERE_ONLY);
    tell("queued", { form });
    pump();
  }
  function dequeue(entry, saved) {
    const token = Object.fromEntries(entry.fields).token;
    const rest = queue().filter((other) => other.id !== entry.id);
    for (const other of rest) {
      /* A later entry of this field corrects what has just been saved, not what was there when it was typed. */
      if (saved && other.name === entry.name && Object.fromEntries(other.fields).token === token)
        other.fields = other.fields.map(([name, value]) => [name, name === "replaces" ? saved : value]);
    }
    store(QUEUE, rest);
  }

  let busy = false;
  let again = 0;
  let failed = 0;
  async function pump() {
    if (busy) return;
    busy = true;
    clearTimeout(again);
    try {
      for (let entry = mine()[0]; entry; entry = mine()[0]) {
        if (!(await send(entry))) return;
        failed = 0;
      }
      signal("");
      const left = queue().filter((entry) => !entry.held);
      if (left.length) again = setTimeout(pump, WAITS[2]); // another tab's, which may have been closed
      else tell("empty");
    } finally {
      busy = false;
    }
  }
  function now() {
    failed = 0;
    pump();
  }
  function wait(words) {
    const count = queue().length;
    signal(`${words} ${count === 1 ? "One entry is" : `${count} entries are`} not saved yet and kept on this device.`);
    for (const entry of queue()) {
      const form = entry.path === here() && formCalled(entry.name);
      if (form) mark(form, HERE_ONLY);
    }
    again = setTimeout(pump, WAITS[Math.min(failed, WAITS.length - 1)]);
    failed += 1;
    return false;
  }
  /* The sentence of a page that says why something was not saved: a full disk, a busy database. */
  async function said(answer) {
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    return page.querySelector(".lead")?.textContent || "The bench is busy.";
  }
  async function send(entry) {
    const fresh = document.querySelector("[name=csrfmiddlewaretoken]");
    const body = new URLSearchParams(entry.fields);
    if (fresh) body.set("csrfmiddlewaretoken", fresh.value);
    const late = setTimeout(() => signal("The bench has not answered yet; what you type is kept on this device."), LATE);
    let answer;
    try {
      answer = await fetch(entry.url, {
        method: "POST", body, headers: entry.page ? {} : { "HX-Request": "true" }, signal: AbortSignal.timeout(PATIENCE),
      });
    } catch {
      return wait("The bench does not answer.");
    } finally {
      clearTimeout(late);
    }
    if ([502, 503, 504].includes(answer.status)) return wait(await said(answer));
    if (answer.status === 403) return wait(await said(answer));
    let text;
    try {
      text = await answer.text();
    } catch {
      return wait("The bench does not answer.");
    }
    /* On a plain link anybody may answer, such as a guest network's own page: only the bench's word counts. */
    if (!answer.headers.has("Gudgeon")) return wait("Something else than the bench answers on this network.");
    const form = entry.path === here() ? formCalled(entry.name) : null;
    if (answer.status >= 500 && (entry.tries || 0) < TRIES) {
      change(entry, { tries: (entry.tries || 0) + 1 });
      return wait("The program failed on an entry and is asked again.");
    }
    if (!answer.ok && (!form || ![409, 422].includes(answer.status))) {
      hold(entry);
      if (form) mark(form, `${HERE_ONLY}: the program failed on this`);
      return true;
    }
    dequeue(entry, answer.headers.get("Gudgeon-Saved"));
    if (answer.ok) dropDraft(entry.path, entry.name);
    if (answer.ok && entry.settles) dropDraftsOf(entry.path, entry.settles);
    if (entry.page) showPage(answer, text, form);
    else showAnswer(answer, text, form);
    return true;
  }
  /* An answer that asks something, and the page it belongs to is not open: it is kept until it is. */
  function hold(entry) {
    change(entry, { held: true });
    signal("");
  }
  function change(entry, more) {
    store(QUEUE, queue().map((other) => (other.id === entry.id ? { ...other, ...more } : other)));
  }
  function dropDraftsOf(path, place) {
    const drafts = load(DRAFTS, {});
    for (const key of Object.keys(drafts)) if (key.startsWith(`${path} ${place}-`)) delete drafts[key];
    store(DRAFTS, drafts);
  }
  function showAnswer(answer, text, form) {
    const waiting = form && queue().some((entry) => entry.name === nameOf(form) && entry.path === here());
    if (form && !waiting) mark(form, "");
    htmx.swap(document.body, text, { swapStyle: "none", swapDelay: 0, settleDelay: 0 });
    if (form && answer.headers.get("Gudgeon-Twice")) {
      fill(form, Object.fromEntries(Object.keys(typed(form)).map((name) => [name, [""]])));
      form.removeAttribute("data-dirty");
    }
    tell("answered", { form, status: answer.status });
  }
  function showPage(answer, text, form) {
    if (answer.ok) {
      location.assign(answer.url);
      return;
    }
    const page = new DOMParser().parseFromString(text, "text/html");
    const main = document.getElementById("main");
    main.replaceChildren(...page.getElementById("main").childNodes);
    htmx.process(main);
    document.dispatchEvent(new CustomEvent("bench:fresh"));
    (main.querySelector("[aria-invalid=true]") || main).focus();
    if (form) window.scrollTo(0, 0);
  }

  function restore() {
    const drafts = load(DRAFTS, {});
    const old = Date.now() - 7 * 24 * 3600 * 1000;
    for (const [key, draft] of Object.entries(drafts)) {
      const form = key.startsWith(`${here()} `) && formCalled(key.slice(here().length + 1));
      if (draft.at < old) delete drafts[key];
      else if (form) {
        fill(form, draft.values);
        form.setAttribute("data-dirty", "");
        mark(form, "not saved yet");
      }
    }
    store(DRAFTS, drafts);
    const entries = queue();
    for (const entry of entries) {
      const form = entry.path === here() && formCalled(entry.name);
      if (!form) continue;
      fill(form, entry.values);
      form.removeAttribute("data-dirty");
      mark(form, HERE_ONLY);
      delete entry.held;
      delete entry.tries; // its page is open now: it goes out once more, and the question is shown
    }
    store(QUEUE, entries);
    pump();
  }

  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (!form || !nameOf(form)) return;
    form.setAttribute("data-dirty", "");
    keepDraft(form);
  });
  /* A field is saved when it is left; a place of two answers when both have been. */
  function left(form) {
    if (form.hasAttribute("data-dirty") && [...new FormData(form)].some(([name, value]) => form.elements[name]?.type !== "hidden" && value !== "")) enqueue(form);
  }
  document.addEventListener("focusout", (event) => {
    const form = event.target.form;
    if (form?.dataset.slot && !form.contains(event.relatedTarget)) left(form);
  });
  document.addEventListener("change", (event) => {
    const form = event.target.form;
    if (form?.dataset.slot && form.hasAttribute("data-atonce")) {
      form.setAttribute("data-dirty", "");
      left(form);
    }
  });
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.dataset.slot) {
      event.preventDefault();
      form.setAttribute("data-dirty", "");
      left(form);
    } else if (form.dataset.keep && !event.submitter?.hasAttribute("formaction")) {
      event.preventDefault();
      if (queue().some((entry) => entry.name === nameOf(form) && entry.path === here())) pump();
      else enqueue(form, event.submitter);
    }
  });
  document.addEventListener("outbox:forget", (event) => {
    event.target.removeAttribute("data-dirty");
    dropDraft(here(), nameOf(event.target));
  });
  document.addEventListener("click", (event) => {
    const settled = event.target.closest("a[data-settles]");
    if (settled) dropDraftsOf(here(), settled.dataset.settles);
  });
  /* A page that is closed leaves its entries to whichever page of ours is opened next. */
  window.addEventListener("pagehide", () => store(QUEUE, queue().map((entry) => (entry.tab === tab ? { ...entry, at: 0 } : entry))));
  for (const sign of ["online", "focus", "pageshow"]) window.addEventListener(sign, now);
  document.addEventListener("visibilitychange", () => document.hidden || now());
  window.addEventListener("storage", (event) => {
    if (event.key !== QUEUE) return;
    const waiting = new Set(queue().filter((entry) => entry.path === here()).map((entry) => entry.name));
    for (const form of document.querySelectorAll("form[data-unsaved]:not([data-dirty])"))
      if (!waiting.has(nameOf(form))) mark(form, "");
  });
  document.addEventListener("DOMContentLoaded", restore);
})();
