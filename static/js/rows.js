// Moves through a list by keyboard: / to the search, j and k or the arrows from row to row. Enter opens,
// because what is focused is a link. Everything is reached by Tab as well.

const rows = [...document.querySelectorAll("a[data-row]")];
const search = document.querySelector("[data-search]");
const steps = { j: 1, k: -1, ArrowDown: 1, ArrowUp: -1 };

document.querySelectorAll("[data-rows-hint]").forEach((hint) => { hint.hidden = rows.length === 0; });

// The row that holds the focus; -1 where none does.
function at() {
  const row = document.activeElement?.closest("tr");
  return row ? rows.findIndex((link) => link.closest("tr") === row) : -1;
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
  if (event.target.closest("input, select, textarea, [contenteditable]")) return;
  if (event.key === "/" && search) {
    event.preventDefault();
    search.focus();
    search.select();
    return;
  }
  const step = steps[event.key];
  // Arrows scroll the page, as everywhere, until a row is chosen.
  if (!step || rows.length === 0 || (event.key.startsWith("Arrow") && at() < 0)) return;
  event.preventDefault();
  const next = at() < 0 ? 0 : Math.min(Math.max(at() + step, 0), rows.length - 1);
  rows[next].focus();
});
