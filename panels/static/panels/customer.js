// Find a breaker as the words are typed; without this script the form asks the server.

const form = document.querySelector("[data-find]");
const told = document.querySelector("[data-found]");

function show(text) {
  const words = text.toLocaleLowerCase().split(/\s+/).filter(Boolean);
  const breakers = [...document.querySelectorAll("[data-breaker]")];
  const found = breakers.filter((breaker) => words.every((word) => breaker.dataset.words.includes(word)));
  const some = found.length > 0 && words.length > 0;
  for (const breaker of breakers) breaker.hidden = some && !found.includes(breaker);
  for (const panel of document.querySelectorAll("[data-panel]")) {
    panel.hidden = some && !panel.querySelector("[data-breaker]:not([hidden])");
  }
  const { none, one, many } = told.dataset;
  told.textContent = words.length === 0 ? "" : found.length === 0 ? none : found.length === 1 ? one : many.replace("#", found.length);
}

if (form) {
  const box = form.elements.q;
  box.addEventListener("input", () => show(box.value));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    show(box.value);
    box.blur();
  });
}
