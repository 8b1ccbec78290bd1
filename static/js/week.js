// Reads the lines of a base week while they are typed: the server reads, this only shows. It asks for
// the page that the button "Read it" asks for and takes over its living parts. Nothing is saved.

import { read as pageOf } from "./live.js";

const form = document.querySelector("form.week[data-preview]");
const WAIT = 250;
let timer;
let running;
let fresh;

async function read() {
  running?.abort();
  running = new AbortController();
  try {
    const answer = await fetch(form.dataset.preview, {
      method: "POST",
      body: new URLSearchParams(new FormData(form)),
      signal: running.signal,
    });
    if (!answer.ok) return;
    fresh = await pageOf(answer);
    show();
  } catch (error) {
    // An answer that was overtaken by the next one, or a server that is gone: the form still works.
    if (error.name !== "AbortError") console.warn(error);
  }
}

// A reading may be longer than the one before it. Nothing moves under a pointer that is about to press.
function isAboutToPress() {
  return form.querySelector(".actions:hover, button:hover, button:focus-visible") !== null;
}

function show(wasPressed = false) {
  if (!fresh || (!wasPressed && isAboutToPress())) return;
  const page = fresh;
  fresh = undefined;
  for (const part of form.querySelectorAll("[data-live]")) {
    const now = page.getElementById(part.id);
    if (!now || now.innerHTML === part.innerHTML) continue;
    part.replaceChildren(...now.childNodes);
    const day = part.closest(".week-day");
    day?.classList.toggle("has-errors", part.querySelector(".field-errors") !== null);
  }
}

// A line that is offered goes into its field, and is read there; without this the button sends the form, which does the same.
form?.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-take]");
  if (!button) return;
  event.preventDefault();
  const field = document.getElementById(button.dataset.take);
  field.value = button.value;
  field.focus();
  clearTimeout(timer);
  read().then(() => show(true));
});
form?.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(read, WAIT);
});
form?.addEventListener("pointerout", () => requestAnimationFrame(() => show()));
form?.addEventListener("focusout", () => requestAnimationFrame(() => show()));
