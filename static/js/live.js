// Takes the living parts of a page that the server sent over into the page that is shown, so that
// everything the coach reads comes from the server and no part is forgotten.

// The page that an answer holds.
export async function read(answer) {
  return new DOMParser().parseFromString(await answer.text(), "text/html");
}

// Takes over every living part.
export function take(fresh) {
  for (const part of document.querySelectorAll("[data-live]")) {
    const other = fresh.getElementById(part.id);
    if (other) part.replaceChildren(...other.childNodes);
    part.classList.remove("is-waiting");
  }
}

// Takes over the version at which the forms of the page are read.
export function takeVersion(fresh) {
  const version = fresh.querySelector("input[name=version]")?.value;
  if (version === undefined) return;
  document.querySelectorAll("input[name=version]").forEach((field) => { field.value = version; });
}
