// Sends photos one after another as soon as they are taken; what failed is tried again under the same id, so nothing is kept twice.

const LONGEST_SIDE = 3200; // what the office keeps anyway: a weak signal carries no more than that
const TOLD = new Set([409, 413, 422, 507]); // answers whose words are for the person

const newId = () => {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
};

// A smaller JPEG of a large picture, upright; anything this browser cannot draw goes as it is.
const smaller = async (file) => {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = LONGEST_SIDE / Math.max(picture.width, picture.height);
    if (scale >= 1 && file.type === "image/jpeg") return file;
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * Math.min(scale, 1));
    canvas.height = Math.round(picture.height * Math.min(scale, 1));
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const made = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.9));
    return made && made.size < file.size ? made : file;
  } catch {
    return file;
  }
};

const post = (form, id, picture, moved) =>
  new Promise((done) => {
    const body = new FormData(form);
    body.delete("photo");
    body.set("id", id);
    body.set("photo", picture, "photo.jpg");
    const request = new XMLHttpRequest();
    request.open("POST", form.action);
    request.setRequestHeader("X-Requested-With", "photos");
    request.timeout = 120000;
    request.upload.addEventListener("progress", (event) => event.lengthComputable && moved(event.loaded / event.total));
    for (const end of ["load", "error", "timeout", "abort"]) request.addEventListener(end, () => done(request));
    request.send(body);
  });

const tray = document.getElementById("sending");
const words = document.getElementById("sending-words")?.content;
const say = (name) => words.querySelector(`[data-${name}]`).textContent;
let queue = Promise.resolve(); // one at a time: a weak signal carries one picture, not five

// The line that asked for photos, as the office sees it now; it stays open or closed as it was.
const refresh = (form) => {
  const line = form.dataset.line && document.getElementById(form.dataset.line);
  if (!line) return;
  const show = line.querySelector("details").open ? "open" : "closed";
  htmx.ajax("GET", `${form.dataset.shown}?show=${show}`, { target: line, swap: "outerHTML" });
};

const send = async (form, row, id, picture) => {
  const [bar, told, again, away] = ["progress", "[data-told]", "[data-again]", "[data-away]"].map((name) => row.querySelector(name));
  again.hidden = away.hidden = true;
  told.textContent = "";
  const request = await post(form, id, picture, (part) => (bar.value = part));
  if (request.status === 200 || request.status === 201) {
    document.querySelector(`[data-photo-list="${form.dataset.photos}"]`)?.insertAdjacentHTML("beforeend", request.responseText);
    row.remove();
    if (!tray.children.length) refresh(form);
    return;
  }
  bar.value = 0;
  told.textContent = TOLD.has(request.status) ? request.responseText : say(request.status ? "broken" : "lost");
  again.hidden = request.status === 422 || request.status === 413; // the same picture will not do
  away.hidden = false;
};

const take = (form, file) => {
  const row = document.getElementById("sending-row").content.firstElementChild.cloneNode(true);
  row.querySelector("[data-name]").textContent = file.name;
  tray.append(row);
  const id = newId();
  let picture; // made once: the same id must always carry the same picture
  const go = () => (queue = queue.then(async () => send(form, row, id, (picture ??= await smaller(file)))));
  row.querySelector("[data-again]").addEventListener("click", go);
  row.querySelector("[data-away]").addEventListener("click", () => row.remove());
  go();
};

document.addEventListener("change", (event) => {
  const form = event.target.closest?.("form[data-photos]");
  if (!form || event.target.type !== "file") return;
  for (const file of event.target.files) take(form, file);
  event.target.value = "";
});
addEventListener("online", () => tray.querySelectorAll("[data-again]:not([hidden])").forEach((again) => again.click()));
addEventListener("beforeunload", (event) => tray?.children.length && event.preventDefault());
