// Recording by thumb: shows the spaces and legs of the chosen size, and only the names that go with the breaker.

const SHOWN = 12;
const turn = () => document.getElementById("record");
const form = () => turn()?.querySelector("[data-record]");
const chosen = (name) => form().querySelector(`[name="${name}"]:checked`);

const showSeat = () => {
  const size = chosen("size");
  if (!size?.dataset.spaces) return;
  form().querySelector("[data-which]").textContent = size.dataset.spaces;
  const legs = size.dataset.legs.split(" ").map((leg) => {
    const mark = document.createElement("span");
    mark.className = "leg";
    mark.dataset.leg = leg;
    mark.textContent = leg;
    return mark;
  });
  form().querySelector("[data-legs].legs").replaceChildren(...legs);
};

const rating = () => form().elements.other.value || chosen("rating")?.value || "";

const showNames = () => {
  const typed = form().elements.name.value.trim().toLowerCase();
  const poles = chosen("size")?.dataset.poles ?? "1";
  let shown = 0;
  for (const chip of form().querySelectorAll(".chip")) {
    const fits = chip.dataset.poles === poles && chip.dataset.ratings.split(" ").includes(rating());
    const wanted = typed ? chip.value.toLowerCase().includes(typed) && chip.dataset.poles === poles : fits;
    chip.hidden = !wanted || shown >= SHOWN;
    if (!chip.hidden) shown += 1;
  }
};

const show = () => {
  if (!form()) return;
  showSeat();
  showNames();
};

document.addEventListener("input", (event) => {
  if (!form()?.contains(event.target)) return;
  if (event.target.name === "other" && event.target.value) {
    const known = chosen("rating");
    if (known) known.checked = false;
  }
  if (event.target.name === "rating") form().elements.other.value = "";
  show();
});

// Whoever typed the last name goes on typing; whoever pressed keys keeps the screen free of a keyboard.
let typing = false;
document.addEventListener("htmx:beforeRequest", (event) => {
  if (turn()?.contains(event.target)) typing = document.activeElement?.name === "name";
});
document.addEventListener("htmx:afterSwap", () => {
  show();
  const name = form()?.elements.name;
  if (name && (typing || matchMedia("(pointer: fine)").matches)) name.focus({ preventScroll: true });
});

show();
