/* Small conveniences of the bench. Every page works without them. */
"use strict";
(() => {
  document.documentElement.classList.add("js");

  /* Enter moves on to the next field: digital gauges type the number and press Enter. */
  function next(field) {
    const fields = [...document.querySelectorAll("form[data-slot] :is(input:not([type=hidden]), select)")].filter(
      (other) => other.offsetParent && (other.type !== "radio" || other === field || other.checked || !other.form.querySelector(":checked")),
    );
    const following = fields[fields.indexOf(field) + 1];
    if (following) {
      following.focus();
      following.select?.();
    } else {
      field.blur();
      field.dispatchEvent(new CustomEvent("slot:last", { bubbles: true }));
    }
  }
  document.addEventListener("slot:next", (event) => next(event.target));
  document.addEventListener("keydown", (event) => {
    const field = event.target;
    if (event.key !== "Enter" || !field.form?.dataset.slot || field.tagName === "TEXTAREA" || field.tagName === "BUTTON") return;
    event.preventDefault();
    next(field);
  });

  /* The gauge in hand and the temperatures are chosen once and go with every reading of the page. */
  document.addEventListener("change", (event) => {
    const field = event.target;
    const target = field.dataset?.carry;
    if (!target) return;
    for (const hidden of document.querySelectorAll(`form[data-slot] input[type=hidden][data-from="${CSS.escape(target)}"]`)) hidden.value = field.value;
    const address = new URL(location.href);
    address.searchParams.set(field.name, field.value);
    history.replaceState(null, "", address);
  });

  /* A button that was pressed says so at once and cannot be pressed twice by a nervous thumb. */
  document.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (!button || event.defaultPrevented) return;
    button.setAttribute("aria-busy", "true");
    window.addEventListener("pageshow", () => button.removeAttribute("aria-busy"), { once: true });
  });

  /* Rows that can be added: the last one is copied, emptied and numbered. */
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-more]");
    if (!button) return;
    event.preventDefault();
    const rows = document.querySelectorAll(button.dataset.more);
    const last = rows[rows.length - 1];
    const copy = last.cloneNode(true);
    for (const element of copy.querySelectorAll("[id], [for], [aria-describedby]")) {
      for (const name of ["id", "for", "aria-describedby"])
        if (element.hasAttribute(name)) element.setAttribute(name, element.getAttribute(name).replace(/\d+$/, rows.length + 1));
      if (element.matches("input")) element.value = "";
    }
    for (const number of copy.querySelectorAll("[data-count]")) number.textContent = rows.length + 1;
    last.after(copy);
    copy.querySelector("input")?.focus();
  });
})();
