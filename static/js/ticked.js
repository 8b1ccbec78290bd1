// Says on the button how many boxes are ticked now.

const place = document.querySelector("[data-ticked]");
const form = place?.closest("form");

function say() {
  place.textContent = form.querySelectorAll("input[name=take]:checked").length;
}

form?.addEventListener("change", say);
if (place) say();
