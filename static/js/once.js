// A form that is being sent is not sent again by an impatient second click. The server counts a
// form once in any case; this only spares the wait. Coming back to the page frees the buttons.

const sent = new WeakSet();

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method === "get" || form.dataset.again !== undefined) return;
  if (sent.has(form)) {
    event.preventDefault();
    return;
  }
  sent.add(form);
  // A download leaves the page where it is: free the form after a moment.
  setTimeout(() => sent.delete(form), 3000);
});

window.addEventListener("pageshow", (event) => {
  if (event.persisted) document.querySelectorAll("form").forEach((form) => sent.delete(form));
});

// A refused form starts reading at what is wrong.
document.getElementById("problems")?.focus();
