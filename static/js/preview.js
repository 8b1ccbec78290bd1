// Shows what other settings would give while they are typed: the same page as the Preview button
// asks for, of which only the living parts are taken over. Nothing is saved.

import { read, take } from "./live.js";

const form = document.querySelector("form[data-preview]");
const WAIT = 250;
let timer;
let running;

function waits(does) {
  document.querySelectorAll("[data-live]").forEach((part) => part.classList.toggle("is-waiting", does));
}

async function show() {
  running?.abort();
  const mine = new AbortController();
  running = mine;
  const fields = new URLSearchParams(new FormData(form));
  fields.set("preview", "1");
  waits(true);
  try {
    const answer = await fetch(`${form.dataset.preview}?${fields}`, { signal: mine.signal });
    // A refused form (422) is a page too: it says what is wrong, over the block as it is kept.
    const page = answer.ok || answer.status === 422 ? await read(answer) : null;
    // An answer that was overtaken while it was read is older than what stands there.
    if (running !== mine) return;
    waits(false);
    if (page) take(page);
  } catch (error) {
    if (running === mine && error.name !== "AbortError") waits(false);
  }
}

form?.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(show, WAIT);
});
