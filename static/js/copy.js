// Copies a field's text at a click and says so. Without a script the field is selected by hand.

for (const button of document.querySelectorAll("button[data-copy]")) {
  const field = document.getElementById(button.dataset.copy);
  if (!field || !navigator.clipboard) continue;
  button.hidden = false;
  button.setAttribute("aria-live", "polite");
  // With its parts: what is said only to who cannot see stays unseen.
  const words = [...button.childNodes];
  field.addEventListener("focus", () => field.select());
  button.addEventListener("click", async () => {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      button.textContent = "Copied";
    } catch {
      button.textContent = "Selected: copy it";
    }
    setTimeout(() => { button.replaceChildren(...words); }, 2500);
  });
}
