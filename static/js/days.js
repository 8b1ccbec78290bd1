// The list of days by keyboard and in place: the date of a day opens its form where it stands. Single keys
// work only while the focus is in the list, so that they never surprise a reader of the page.

import { close, dayOf, fields, open, send } from "./edit.js";

const days = document.getElementById("live-days");
const keys = document.getElementById("keys");
if (keys) keys.hidden = false;

// Whether some of a cell is marked: whoever marks text does not press. What is marked inside a field is none of it.
function isMarked(cell) {
  const marked = getSelection();
  return marked !== null && !marked.isCollapsed && marked.containsNode(cell, true);
}

function isTyping(element) {
  return element.closest("select, textarea, input:not([type=checkbox])") !== null;
}

// The link of the next day that can be changed, forward (1) or back (-1).
function neighbour(day, step) {
  const links = [...days.querySelectorAll(".day-link")];
  return links[links.indexOf(day.querySelector(".day-link")) + step];
}

function step(id) {
  document.getElementById(id)?.requestSubmit();
}

function toggleKeys() {
  if (keys) keys.open = !keys.open;
}

const actions = {
  ArrowDown: (day) => neighbour(day, 1)?.focus(),
  ArrowUp: (day) => neighbour(day, -1)?.focus(),
  e: (day) => open(day, "line"),
  m: (day) => open(day, "to"),
  p: (day, link) => send(link.href, fields(day.classList.contains("is-fixed") ? "free" : "fix"), day.dataset.day),
  u: () => step("undo"),
  "Alt+ArrowDown": (day, link) => swap(day, link, 1),
  "Alt+ArrowUp": (day, link) => swap(day, link, -1),
};

function swap(day, link, by) {
  const other = dayOf(neighbour(day, by))?.dataset.day;
  if (other) send(link.href, fields("swap", other), other);
}

days?.addEventListener("keydown", (event) => {
  const day = dayOf(event.target);
  if (event.key === "Escape" && day?.querySelector(".day-edit")) {
    event.preventDefault();
    close();
    return;
  }
  const link = day?.querySelector(".day-link");
  if (!link || event.ctrlKey || event.metaKey || isTyping(event.target)) return;
  const name = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const action = actions[event.altKey ? `Alt+${name}` : name];
  if (!action) return;
  event.preventDefault();
  action(day, link);
});

document.addEventListener("keydown", (event) => {
  if (!days || isTyping(event.target)) return;
  if (event.key === "?") toggleKeys();
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  event.preventDefault();
  step(event.shiftKey ? "redo" : "undo");
});

days?.addEventListener("click", (event) => {
  if (event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
  const day = dayOf(event.target);
  if (event.target.closest(".day-leave")) {
    event.preventDefault();
    close();
  } else if (day?.querySelector(".day-link") && event.target.closest(".day-link, .day-planned")) {
    const planned = event.target.closest(".day-planned");
    if (planned && isMarked(planned)) return;
    event.preventDefault();
    open(day, "line");
  }
});
