/* The bench page: one place in hand, the one just read beneath it, the others carried along unseen. */
"use strict";
(() => {
  const bench = document.querySelector("[data-bench]");
  if (!bench) return;
  const TOLD = "gudgeon.told";
  const FEW = 24; // when so few are left to go to, more are fetched
  const thumb = bench.querySelector("[data-thumb]");
  const control = (name) => thumb.querySelector(`[data-do=${name}]`);
  const stops = () => [...bench.querySelectorAll("[data-stop]")];
  const seen = (view) => bench.querySelector(`[data-stop][data-view=${view}]`);
  const fieldsOf = (stop) => [...stop.querySelectorAll("form[data-slot] :is(input:not([type=hidden], [type=checkbox]), select)")];
  const empty = (field) => field.value === "";
  /* With a queued, saved or skipped reading there is nothing left to do here for now. */
  const open = (stop) => !("skipped" in stop.dataset) && fieldsOf(stop).some((field) => field.name !== "text" && empty(field) && !field.form.elements.none_enters?.checked);

  function focus(stop) {
    const fields = fieldsOf(stop);
    const field = fields.find((one) => one.name !== "text" && empty(one)) || fields[0];
    field?.focus({ preventScroll: true });
    field?.select?.();
  }
  function controls() {
    const now = seen("now");
    const last = seen("last");
    control("undo").hidden = !last;
    for (const name of ["go", "skip", "photograph"]) if (control(name)) control(name).hidden = !now;
    if (now && control("photograph")) control("photograph").href = now.dataset.photograph;
    if (last) control("undo").href = last.dataset.address;
  }
  function show(stop, last) {
    for (const other of stops()) {
      other.dataset.view = other === stop ? "now" : other === last ? "last" : "later";
      other.hidden = other.dataset.view === "later";
    }
    bench.querySelector("[data-end]").hidden = Boolean(stop);
    controls();
    asks();
    if (!stop) return;
    history.replaceState(null, "", stop.dataset.address);
    window.scrollTo(0, 0);
    focus(stop);
  }
  function following(stop) {
    const all = stops();
    const at = all.indexOf(stop);
    return [...all.slice(at + 1), ...all.slice(0, at)].find(open);
  }
  function goOn(last) {
    const now = seen("now");
    const left = bench.querySelector("[data-left]");
    if (last && !("counted" in last.dataset)) left.textContent = left.dataset.left = Math.max(0, left.dataset.left - 1);
    if (last) last.dataset.counted = "";
    const next = following(now);
    show(next, last || seen("last"));
    if (!next) arrive();
    else carryMore();
  }

  /* At the end of what is carried: on with what the bench says, as soon as it answers and has everything. */
  const AGAIN = 2000;
  async function arrive() {
    if (seen("now")) return;
    const waiting = JSON.parse(localStorage.getItem("gudgeon.outbox") || "[]").some((entry) => !entry.held);
    const onward = new URL(stops().at(-1)?.dataset.address || bench.dataset.bench, location);
    onward.searchParams.set("after", onward.searchParams.get("at") || "");
    onward.searchParams.delete("at");
    try {
      if (!waiting && (await fetch(onward, { signal: AbortSignal.timeout(8000) })).headers.has("Gudgeon")) return location.assign(onward);
    } catch {
      /* Leaving now would lead to the browser's own error page; this page stays and asks again. */
    }
    setTimeout(arrive, AGAIN);
  }
  let fetching = false;
  let more = 0;
  async function carryMore() {
    clearTimeout(more);
    if (fetching || !("further" in bench.dataset) || stops().filter(open).length > FEW) return;
    fetching = true;
    try {
      const far = stops().at(-1);
      const answer = await fetch(far.dataset.address, { signal: AbortSignal.timeout(8000) });
      if (!answer.ok || answer.redirected || !answer.headers.has("Gudgeon")) return;
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const there = new Set(stops().map((stop) => stop.id));
      let after = far;
      let fresh = 0;
      for (const stop of page.querySelectorAll("[data-stop]")) {
        if (there.has(stop.id)) continue;
        stop.dataset.view = "later";
        stop.hidden = true;
        after.after(stop);
        after = stop;
        fresh += 1;
      }
      if (!fresh || !page.querySelector("[data-further]")) delete bench.dataset.further;
    } catch {
      /* Without signal the walk goes on with what is carried. */
    } finally {
      fetching = false;
      more = setTimeout(carryMore, AGAIN);
    }
  }

  /* A refusal or a question at a place that is no longer in view is brought back into view. */
  function asks() {
    for (const stop of stops()) {
      const waits = Boolean(stop.querySelector(".answer [role=alert]"));
      stop.toggleAttribute("data-asks", waits);
      if (stop.dataset.view === "later") stop.hidden = !waits;
    }
    const waiting = stops().filter((stop) => stop.hasAttribute("data-asks") && stop.dataset.view !== "now");
    const needs = bench.querySelector("[data-needs]");
    needs.hidden = !waiting.length;
    const words = waiting.length ? "An earlier reading needs your word, below. " : "";
    if (needs.textContent !== words) needs.textContent = words;
  }

  document.addEventListener("slot:last", (event) => {
    const stop = event.target.closest("[data-stop]");
    if (stop?.dataset.view !== "now") return;
    if (open(stop)) stop.dataset.skipped = "";
    goOn(open(stop) ? null : stop);
  });
  document.addEventListener("outbox:answered", asks);
  document.addEventListener("outbox:empty", carryMore);
  document.addEventListener("news:read", ({ detail }) => {
    const stop = detail.form.closest("[data-stop]");
    if (stop) asks();
  });
  document.addEventListener("gauge:types", () => {
    const now = seen("now");
    if (now) focus(now);
  });
  thumb.addEventListener("click", (event) => {
    const what = event.target.closest("[data-do]")?.dataset.do;
    const now = seen("now");
    if (!["go", "skip", "undo"].includes(what) || (!now && what !== "undo")) return;
    event.preventDefault();
    if (what === "undo") {
      const last = seen("last");
      if (last) show(last, null);
      return;
    }
    if (what === "skip" || open(now)) now.dataset.skipped = "";
    goOn(what === "go" && !open(now) ? now : null);
  });
  const plain = bench.querySelector("[data-plain-link]");
  plain.querySelector("button").addEventListener("click", () => {
    localStorage.setItem(TOLD, "yes");
    plain.hidden = true;
  });
  document.addEventListener("DOMContentLoaded", () => {
    plain.hidden = isSecureContext || localStorage.getItem(TOLD) === "yes";
    const now = seen("now");
    if (!now) return controls();
    /* What was typed here before a reload is on its way; the next one is in hand. */
    if (now.querySelector("form[data-unsaved]:not([data-dirty])")) goOn(now);
    else {
      controls();
      focus(now);
      carryMore();
    }
  });
})();
