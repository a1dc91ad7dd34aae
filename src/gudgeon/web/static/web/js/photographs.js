/* Photographs go out one after the other, so that one that is refused, or a link that breaks, costs that one only.
   Without scripts the form sends them all at once. */
"use strict";
(() => {
  const PAUSE = 1500;
  const PATIENCE = 8; // how often a busy bench is asked again

  const wait = (time) => new Promise((go) => setTimeout(go, time));
  function send(form, file, progress) {
    const data = new FormData(form);
    data.delete("photographs");
    data.append("photographs", file);
    return new Promise((done) => {
      const request = new XMLHttpRequest();
      request.open("POST", form.action);
      request.setRequestHeader("Gudgeon-One", "yes");
      request.setRequestHeader("X-CSRFToken", data.get("csrfmiddlewaretoken"));
      request.upload.addEventListener("progress", (event) => event.lengthComputable && progress(event.loaded / event.total));
      request.addEventListener("load", () => done({ status: request.status, words: request.responseText, plain: (request.getResponseHeader("Content-Type") || "").startsWith("text/plain") }));
      request.addEventListener("error", () => done({ status: 0 }));
      request.send(data);
    });
  }
  async function patiently(form, file, progress) {
    let answer = await send(form, file, progress);
    for (let again = 0; answer.status === 503 && again < PATIENCE; again += 1) {
      await wait(PAUSE);
      answer = await send(form, file, progress);
    }
    return answer;
  }
  function refused(file, answer) {
    if (answer.status === 0) return `${file.name}: the bench does not answer; it is not sent yet. Keep this page open and send again.`;
    if (answer.plain) return answer.words;
    return `${file.name}: it was not taken in. Load the page again and send it once more.`;
  }
  function tell(place, sentences) {
    place.replaceChildren(
      ...sentences.map((words) => {
        const line = document.createElement("p");
        line.className = "wrong";
        line.textContent = words;
        return line;
      }),
    );
  }

  async function sendAll(form, files) {
    const bar = form.querySelector("progress");
    const told = form.querySelector("[data-said]");
    const button = form.querySelector("button.first");
    form.querySelector("[data-sending]").hidden = false;
    button.disabled = true;
    const wrongs = [];
    const left = [];
    for (const [n, file] of files.entries()) {
      const answer = await patiently(form, file, (share) => (bar.value = ((n + share) / files.length) * 100));
      bar.value = ((n + 1) / files.length) * 100;
      if (answer.status === 200) continue;
      wrongs.push(refused(file, answer));
      if (answer.status === 0 || answer.status === 503) left.push(file);
      tell(told, wrongs);
    }
    button.disabled = false;
    button.removeAttribute("aria-busy");
    form.querySelector("[data-sending]").hidden = true;
    if (!wrongs.length) {
      const back = form.elements.back.value;
      if (back.startsWith("/") && !back.startsWith("//")) location.assign(back);
      else location.reload();
      return;
    }
    form.unsent = left;
    for (const field of form.querySelectorAll("input[type=file]")) field.value = "";
    if (left.length < files.length && files.length > wrongs.length) tell(told, [...wrongs, "The others are in the job."]);
  }

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("[data-photographs]")) return;
    const chosen = [...form.querySelectorAll("input[type=file]")].flatMap((field) => [...field.files]);
    const files = [...(form.unsent || []), ...chosen];
    if (!files.length) return;
    event.preventDefault();
    sendAll(form, files);
  });
})();
