// Reads the lines of a base week while they are typed: the server reads, this only shows. It asks for
// the page that the button "Read it" asks for and takes over its living parts. Nothing is saved.

const form = document.querySelector("form.week[data-preview]");
const WAIT = 250;
let timer;
let running;

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
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    for (const part of form.querySelectorAll("[data-live]")) {
      const fresh = page.getElementById(part.id);
      if (!fresh || fresh.innerHTML === part.innerHTML) continue;
      part.replaceChildren(...fresh.childNodes);
      part.parentElement.classList.toggle("has-errors", part.querySelector(".field-errors") !== null);
    }
  } catch (error) {
    // An answer that was overtaken by the next one, or a server that is gone: the form still works.
    if (error.name !== "AbortError") console.warn(error);
  }
}

form?.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(read, WAIT);
});
