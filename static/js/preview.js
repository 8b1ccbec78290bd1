// Shows what other settings would give while they are typed: the same page as the Preview button
// asks for, of which only the living parts are taken over. Nothing is saved.

const form = document.querySelector("form[data-preview]");
const WAIT = 250;
let timer;
let running;

function parts() {
  return [...document.querySelectorAll("[data-live]")];
}

async function show() {
  running?.abort();
  running = new AbortController();
  const fields = new URLSearchParams(new FormData(form));
  fields.set("preview", "1");
  parts().forEach((part) => part.classList.add("is-waiting"));
  try {
    const answer = await fetch(`${form.dataset.preview}?${fields}`, { signal: running.signal });
    // A refused form (422) is a page too: it says what is wrong, over the block as it is kept.
    if (!answer.ok && answer.status !== 422) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    for (const part of parts()) {
      const fresh = page.getElementById(part.id);
      if (fresh) part.replaceChildren(...fresh.childNodes);
      part.classList.remove("is-waiting");
    }
  } catch (error) {
    if (error.name === "AbortError") return;
    parts().forEach((part) => part.classList.remove("is-waiting"));
  }
}

form?.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(show, WAIT);
});
