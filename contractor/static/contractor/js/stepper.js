// Puts a minus and a plus beside <input type="number" data-stepper>; the input itself works without.

const button = (sign, label, move) => {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = sign;
  made.setAttribute("aria-label", label);
  made.addEventListener("click", move);
  return made;
};

const dress = (input) => {
  if (input.closest(".stepper")) return;
  const box = document.createElement("span");
  box.className = "stepper";
  const move = (step) => () => {
    step();
    input.dispatchEvent(new Event("input", { bubbles: true }));
    input.dispatchEvent(new Event("change", { bubbles: true }));
  };
  input.replaceWith(box);
  box.append(
    button("−", input.dataset.less, move(() => input.stepDown())),
    input,
    button("+", input.dataset.more, move(() => input.stepUp())),
  );
};

const dressAll = (root) => root.querySelectorAll("input[data-stepper]").forEach(dress);
dressAll(document);
document.addEventListener("htmx:load", (event) => dressAll(event.detail.elt));
