/* Gauges that type: the number comes in a burst and ends by Enter or Tab. A button that bounces sends it twice. */
"use strict";
(() => {
  const GAP = 45; // a hand does not type faster than one figure in so many milliseconds
  const TWICE = 500;
  const WORDS = "Came twice within half a second: taken once.";
  let burst = { field: null, times: [] };
  let last = { value: "", at: -Infinity, form: null };
  let before = { field: null, value: "", dirty: false };

  const inSlot = (field) => field?.form?.dataset?.slot && field.inputMode === "decimal";
  const writes = (field) => field?.matches?.("input:not([type=radio], [type=checkbox], [type=file]), textarea, select");
  function byGauge(field, at) {
    const times = burst.field === field ? burst.times : [];
    return times.length > 1 && at - times[0] <= GAP * times.length;
  }
  function note(form) {
    const state = form?.querySelector(".state");
    const said = document.createElement("span");
    said.className = "state twice";
    said.setAttribute("role", "status");
    said.textContent = WORDS;
    form?.querySelector(".twice")?.remove();
    state?.after(said);
  }

  document.addEventListener("focusin", (event) => {
    if (inSlot(event.target)) before = { field: event.target, value: event.target.value, dirty: event.target.form.hasAttribute("data-dirty") };
  });
  document.addEventListener(
    "keydown",
    (event) => {
      const field = event.target;
      if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
      if (event.key.length === 1) {
        /* No field is open: what a gauge types goes to the place in hand. */
        if (!writes(field) && /[-0-9.,]/.test(event.key)) document.dispatchEvent(new CustomEvent("gauge:types"));
        const open = document.activeElement;
        if (burst.field !== open) burst = { field: open, times: [] };
        burst.times.push(event.timeStamp);
        return;
      }
      if ((event.key !== "Enter" && event.key !== "Tab") || event.shiftKey || !inSlot(field)) return;
      const quick = byGauge(field, event.timeStamp);
      burst = { field: null, times: [] };
      const value = field.value.trim();
      if (quick && value && value === last.value && event.timeStamp - last.at < TWICE) {
        event.preventDefault();
        event.stopImmediatePropagation();
        field.value = before.field === field ? before.value : "";
        field.select();
        if (!before.dirty) field.form.dispatchEvent(new CustomEvent("outbox:forget", { bubbles: true }));
        note(last.form);
        return;
      }
      last = { value: quick ? value : "", at: event.timeStamp, form: field.form };
      if (event.key === "Tab" && quick) {
        event.preventDefault();
        field.dispatchEvent(new CustomEvent("slot:next", { bubbles: true }));
      }
    },
    true,
  );
})();
