/* The outbox: what was typed goes out once and in order, and waits on this device while the bench does not answer. */
"use strict";
(() => {
  const QUEUE = "gudgeon.outbox";
  const DRAFTS = "gudgeon.drafts";
  const RETRY = 3000;
  const tab = sessionStorage.getItem("gudgeon.tab") || Math.random().toString(36).slice(2);
  sessionStorage.setItem("gudgeon.tab", tab);

  const load = (key, empty) => {
    try { return JSON.parse(localStorage.getItem(key)) || empty; } catch { return empty; }
  };
  const store = (key, value) => localStorage.setItem(key, JSON.stringify(value));
  const queue = () => load(QUEUE, []);
  const mine = () => queue().filter((entry) => entry.tab === tab || Date.now() - entry.at > 20000);

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
    bar.hidden = !words;
    if (bar.textContent !== (words || "")) bar.textContent = words || "";
  }

  function enqueue(form) {
    const fields = [...new FormData(form)].filter(([, value]) => typeof value === "string");
    const entries = queue();
    entries.push({
      id: `${tab}-${Date.now()}-${entries.length}`, tab, at: Date.now(), path: here(), name: nameOf(form),
      url: form.action, fields, values: typed(form), page: form.hasAttribute("data-keep"),
    });
    store(QUEUE, entries);
    form.removeAttribute("data-dirty");
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
  async function pump() {
    if (busy) return;
    busy = true;
    try {
      for (let entry = mine()[0]; entry; entry = mine()[0]) if (!(await send(entry))) return;
      signal("");
    } finally {
      busy = false;
    }
  }
  function wait(words) {
    const count = queue().length;
    signal(`${words} ${count === 1 ? "One entry is" : `${count} entries are`} not saved yet and kept on this device.`);
    for (const entry of queue()) {
      const form = entry.path === here() && formCalled(entry.name);
      if (form) mark(form, "not saved yet");
    }
    clearTimeout(again);
    again = setTimeout(pump, RETRY);
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
    let answer;
    try {
      answer = await fetch(entry.url, {
        method: "POST", body, headers: entry.page ? {} : { "HX-Request": "true" }, signal: AbortSignal.timeout(20000),
      });
    } catch {
      return wait("The bench does not answer.");
    }
    if ([502, 503, 504].includes(answer.status)) return wait(await said(answer));
    if (answer.status === 403) return wait("This page is too old: load it again.");
    const text = await answer.text();
    dequeue(entry, answer.headers.get("Gudgeon-Saved"));
    if (answer.ok) dropDraft(entry.path, entry.name);
    const form = entry.path === here() ? formCalled(entry.name) : null;
    if (entry.page) showPage(answer, text, form);
    else showAnswer(answer, text, form);
    return true;
  }
  function showAnswer(answer, text, form) {
    if (![200, 409, 422].includes(answer.status)) {
      if (form) mark(form, "not saved: the program failed on this. Type it again.");
      return;
    }
    const waiting = form && queue().some((entry) => entry.name === nameOf(form) && entry.path === here());
    if (form && !waiting) mark(form, "");
    htmx.swap(document.body, text, { swapStyle: "none", swapDelay: 0, settleDelay: 0 });
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
    for (const entry of queue()) {
      const form = entry.path === here() && formCalled(entry.name);
      if (!form) continue;
      fill(form, entry.values);
      form.removeAttribute("data-dirty");
      mark(form, "not saved yet");
    }
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
      else enqueue(form);
    }
  });
  window.addEventListener("online", pump);
  window.addEventListener("storage", (event) => {
    if (event.key !== QUEUE) return;
    const waiting = new Set(queue().filter((entry) => entry.path === here()).map((entry) => entry.name));
    for (const form of document.querySelectorAll("form[data-unsaved]:not([data-dirty])"))
      if (!waiting.has(nameOf(form))) mark(form, "");
  });
  document.addEventListener("DOMContentLoaded", restore);
})();
