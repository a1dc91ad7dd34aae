/* A link into a fold opens it. Browsers of today open what lies around the place; this opens its own fold too. */
"use strict";
(() => {
  function reveal() {
    const place = document.getElementById(location.hash.slice(1));
    if (!place || !document.getElementById("main").contains(place)) return;
    for (let fold = place.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    const own = place.querySelector(":scope > details");
    if (own) own.open = true;
    place.scrollIntoView();
  }
  window.addEventListener("hashchange", reveal);
  document.addEventListener("DOMContentLoaded", reveal);
  /* The same link once more, after its fold was shut, changes no address. */
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='#']");
    if (link && link.hash === location.hash) reveal();
  });
})();
