// Adds a button to each group of boxes that ticks or clears them all at once: beside its other buttons, or at its end. A
// group may hold others; then it says by its attribute whom it is for.

for (const group of document.querySelectorAll("[data-tick-all]")) {
  const boxes = [...group.querySelectorAll("input[type=checkbox]")];
  if (boxes.length < 2) continue;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button quiet small";
  const all = () => boxes.every((box) => box.checked);
  const name = group.dataset.tickAll || group.querySelector("legend").textContent.trim();
  const say = () => {
    button.textContent = all() ? "Clear all" : `Tick all ${boxes.length}`;
    button.setAttribute("aria-label", `${button.textContent} of ${name}`);
  };
  button.addEventListener("click", () => {
    const ticked = !all();
    const changed = boxes.filter((box) => box.checked !== ticked);
    changed.forEach((box) => { box.checked = ticked; });
    // Groups around it and inside it say anew what their buttons do.
    changed.forEach((box) => box.dispatchEvent(new Event("change", { bubbles: true })));
  });
  group.addEventListener("change", say);
  (group.querySelector(":scope > [data-tick-all-button]") ?? group).append(button);
  say();
}
