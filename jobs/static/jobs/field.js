// In the field: copy an address, print a record, go from one answered line to the next, and lose nothing without a signal.

// A form sent without a signal would leave for the browser's own error page, and the typing with it.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (navigator.onLine || form.method !== "post" || form.hasAttribute("hx-post")) return;
  event.preventDefault();
  const notice = document.getElementById("notice-unreachable")?.content.cloneNode(true);
  if (notice) document.getElementById("messages")?.replaceChildren(notice);
  scrollTo({ top: 0 });
}, { capture: true });

document.addEventListener("click", async (event) => {
  const copy = event.target.closest("[data-copy]");
  if (copy) {
    const label = copy.textContent;
    try {
      await navigator.clipboard.writeText(copy.dataset.copy);
      copy.textContent = copy.dataset.copied;
      setTimeout(() => (copy.textContent = label), 2000);
    } catch {
      // no clipboard here: show the address itself, to be marked by hand
      copy.replaceWith(Object.assign(document.createElement("span"), { textContent: copy.dataset.copy }));
    }
  }
  if (event.target.closest("[data-print]")) window.print();
});

// After an answer the line it was given to is another element: the keyboard goes on at the open one.
document.addEventListener("htmx:afterSettle", (event) => {
  const line = event.detail.elt?.closest?.(".line");
  if (!line || document.activeElement !== document.body) return;
  if (line.querySelector("[data-error-summary]")) return;
  const next = line.querySelector("details[open]") ? line : document.querySelector(".line details[open]")?.closest(".line");
  const summary = (next ?? line).querySelector("summary");
  summary.focus({ preventScroll: true });
  summary.scrollIntoView({ block: "nearest" });
});
