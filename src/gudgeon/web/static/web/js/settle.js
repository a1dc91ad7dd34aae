/* "Air is on": the settle time is counted at the reading, in the seconds and words that the page carries. It types nothing. */
"use strict";
(() => {
  const STEP = matchMedia("(prefers-reduced-motion: reduce)").matches ? 1000 : 200;
  const BUZZ = { read: [300], done: [120, 80, 120] };
  let running = null; // one tester, one time
  const boxes = () => [...document.querySelectorAll(".settle[data-settle]")];

  function show(box, phase, part) {
    const said = box.querySelector("[role=status]");
    const words = box.dataset[phase] || "";
    box.querySelector("progress").value = part;
    if (box.dataset.phase === phase && said.textContent === words) return;
    box.dataset.phase = phase;
    said.textContent = words;
    if (BUZZ[phase]) navigator.vibrate?.(BUZZ[phase]);
  }
  function rest(box) {
    show(box, "", 0);
    box.querySelector("button").textContent = box.dataset.start;
  }
  function stop() {
    clearInterval(running?.beat);
    running = null;
  }
  function beat() {
    const { box, from } = running;
    if (!box.isConnected) return stop(); // the page was answered with another one
    const seconds = (performance.now() - from) / 1000;
    const settle = Number(box.dataset.settle);
    const steady = Number(box.dataset.steady);
    if (seconds < settle) return show(box, "settling", seconds / settle);
    if (seconds < settle + steady) return show(box, "read", (seconds - settle) / steady);
    show(box, "done", 1);
    stop();
  }
  function start(box) {
    const before = running?.box;
    stop();
    if (before && before !== box) rest(before);
    box.querySelector("button").textContent = box.dataset.again;
    box.querySelector("[role=status]").textContent = "";
    running = { box, from: performance.now(), beat: setInterval(beat, STEP) };
    beat();
  }
  function take() {
    for (const box of boxes()) {
      box.dataset.start ||= box.querySelector("button").textContent;
      box.hidden = false;
    }
  }

  document.addEventListener("click", (event) => {
    const box = event.target.closest(".settle button")?.closest(".settle");
    if (box) start(box);
    /* A reading that was added is a copy of the one before it, time and all. */
    else if (event.target.closest("[data-more]")) for (const other of boxes()) if (other.dataset.phase && other !== running?.box) rest(other);
  });
  document.addEventListener("bench:fresh", take);
  take();
})();
