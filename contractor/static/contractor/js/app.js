// What every page does beyond plain HTML: says who asks, shows that it is working, tells when the signal is gone.

const html = document.documentElement;
html.classList.add("js");

const token = document.querySelector('meta[name="csrf-token"]')?.content ?? "";
const messages = () => document.getElementById("messages");

document.addEventListener("htmx:configRequest", (event) => {
  event.detail.headers["X-CSRFToken"] = token;
});

let running = 0;
const busy = (step) => {
  running = Math.max(0, running + step);
  document.body.classList.toggle("is-busy", running > 0);
};
document.addEventListener("htmx:beforeRequest", () => busy(+1));
document.addEventListener("htmx:afterRequest", () => busy(-1));

const say = (id) => {
  const notice = document.getElementById(id)?.content.cloneNode(true);
  if (notice) messages()?.replaceChildren(notice);
};
document.addEventListener("htmx:sendError", () => say("notice-unreachable"));
document.addEventListener("htmx:timeout", () => say("notice-unreachable"));
document.addEventListener("htmx:responseError", () => say("notice-failed"));

const signal = () => {
  const banner = document.querySelector("[data-offline]");
  if (banner) banner.hidden = navigator.onLine;
};
addEventListener("online", signal);
addEventListener("offline", signal);
signal();

const toErrors = (root) => root.querySelector?.("[data-error-summary]")?.focus();
toErrors(document);
document.addEventListener("htmx:load", (event) => toErrors(event.detail.elt));

// A second press on the same button sends nothing twice.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || event.defaultPrevented) return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
  setTimeout(() => delete form.dataset.sent, 4000);
});
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});

// <form data-guard>: leaving with unsaved typing asks first.
document.addEventListener("input", (event) => {
  const form = event.target.closest?.("form[data-guard]");
  if (form) form.dataset.touched = "yes";
});
addEventListener("beforeunload", (event) => {
  if (document.querySelector("form[data-touched]:not([data-sent])")) event.preventDefault();
});
