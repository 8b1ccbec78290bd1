// Changes a day in place: the form of the day's own page, opened in the list. The server decides; what it
// refuses comes back in the form with what was typed, what is stale goes to the page that shows both.

import { read, take, takeVersion } from "./live.js";

const days = document.getElementById("live-days");
let busy = false;

// The day that an element belongs to.
export function dayOf(element) {
  return element?.closest?.("tbody[data-day]") ?? null;
}

function focus(date) {
  document.querySelector(`tbody[data-day="${date}"] .day-link`)?.focus();
}

// Opens the form of a day with the cursor in one of its fields.
export async function open(day, field) {
  close();
  const link = day.querySelector(".day-link");
  if (!link) return;
  try {
    const page = await read(await fetch(link.href));
    if (show(day, page, field)) return;
  } catch {
    // Whatever went wrong, the page of the day says it.
  }
  location.assign(link.href);
}

function show(day, page, field) {
  const form = page.getElementById("day-form");
  if (!form || !day) return false;
  day.querySelector(".day-edit")?.remove();
  const row = document.createElement("tr");
  row.className = "day-edit";
  const cell = row.insertCell();
  cell.colSpan = 5;
  cell.append(form);
  day.append(row);
  day.classList.add("is-open");
  const wrong = form.querySelector("[aria-invalid]");
  const first = wrong ?? form.querySelector(`#${field}`) ?? form.elements.line;
  first.focus();
  first.select?.();
  return true;
}

// Closes the form without saving.
export function close() {
  const day = dayOf(days.querySelector(".day-edit"));
  if (!day) return;
  day.querySelector(".day-edit").remove();
  day.classList.remove("is-open");
  focus(day.dataset.day);
}

// What goes with a change that needs no form.
export function fields(what, to) {
  const version = days.querySelector("input[name=version]")?.value
    ?? document.querySelector("input[name=version]").value;
  return new URLSearchParams({ version, do: what, session: "0", to: to ?? "" });
}

// Sends a change and shows what came of it; the focus goes to the day that was changed.
export async function send(action, sent, date) {
  if (busy) return;
  busy = true;
  try {
    const answer = await fetch(action, { method: "POST", body: sent });
    const page = await read(answer);
    if (answer.status === 422 && show(document.querySelector(`tbody[data-day="${date}"]`), page, "line")) return;
    if (!answer.ok) return leave(action, sent);
    take(page);
    takeVersion(page);
    // What an earlier page said is over.
    document.querySelectorAll("main > .notice, #problems").forEach((said) => said.remove());
    document.getElementById("days-said").textContent = page.querySelector(".notice p")?.textContent ?? "";
    if (date) focus(date);
  } catch {
    leave(action, sent);
  } finally {
    busy = false;
  }
}

// Sends the same as a form without scripts does: the answer is a page of its own.
function leave(action, sent) {
  const form = document.createElement("form");
  Object.assign(form, { method: "post", action, hidden: true });
  for (const [name, value] of sent) {
    form.append(Object.assign(document.createElement("input"), { name, value }));
  }
  document.body.append(form);
  form.submit();
}

days?.addEventListener("submit", (event) => {
  const form = event.target;
  const day = dayOf(form);
  if (!day && form.dataset.inPlace === undefined) return;
  event.preventDefault();
  const sent = new URLSearchParams(new FormData(form));
  const what = event.submitter?.value;
  if (event.submitter?.name) sent.append(event.submitter.name, what);
  const moved = what === "move" || what === "swap";
  send(form.action, sent, moved ? sent.get("to") : day?.dataset.day);
});
