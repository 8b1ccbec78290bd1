// Reads the lines of a base week while they are typed: the server reads, this only shows. It asks for
// the page that the button "Read it" asks for and takes over its living parts. Nothing is saved.

import { read as pageOf } from "./live.js";

const form = document.querySelector("form.week[data-preview]");
const WAIT = 250;
let timer;
let running;
let fresh;
let types = false;

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

// A reading may be longer than the one before it. Nothing moves under a pointer that is about to press; what has the focus
// is pressed wherever it is. A pointer that rests where it pressed last, while somebody types, is not about to.
function isAboutToPress() {
  return !types && form.querySelector(".actions:hover, button:hover") !== null;
}

function show(wasPressed = false) {
  if (!fresh || (!wasPressed && isAboutToPress())) return;
  const page = fresh;
  fresh = undefined;
  for (const part of form.querySelectorAll("[data-live]")) {
    const now = page.getElementById(part.id);
    if (!now || now.innerHTML === part.innerHTML) continue;
    const focused = part.contains(document.activeElement) ? document.activeElement : undefined;
    part.replaceChildren(...now.childNodes);
    if (focused) focusInstead(part, focused);
    const day = part.closest(".week-day");
    const isWrong = part.querySelector(".field-errors") !== null;
    day?.classList.toggle("has-errors", isWrong);
    if (isWrong) day?.querySelector("input")?.setAttribute("aria-invalid", "true");
    else day?.querySelector("input")?.removeAttribute("aria-invalid");
  }
}

// What had the focus is gone with the old reading: its like has it now. Where other lines are offered than before, the
// field of the day has it, so that no key takes what nobody has read; where none is, the field that comes next.
function focusInstead(part, before) {
  const offers = [...part.querySelectorAll("button[data-take]")];
  const like = offers.find((button) => button.value === before.value);
  const fields = [...form.querySelectorAll("input:not([type=hidden]), textarea, select")];
  const next = () => fields.find((field) => part.compareDocumentPosition(field) & Node.DOCUMENT_POSITION_FOLLOWING);
  const ofDay = document.getElementById(before.dataset.take);
  (like ?? (offers.length > 0 ? ofDay : next()) ?? ofDay)?.focus();
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
form?.addEventListener("pointermove", () => {
  types = false;
});
form?.addEventListener("input", (event) => {
  types = true;
  // What was offered for other words is out of the way of the next key.
  for (const button of form.querySelectorAll("button[data-take]")) {
    if (button.dataset.take === event.target.id) button.disabled = true;
  }
  clearTimeout(timer);
  timer = setTimeout(read, WAIT);
});
form?.addEventListener("pointerout", () => requestAnimationFrame(() => show()));
form?.addEventListener("focusout", () => requestAnimationFrame(() => show()));
