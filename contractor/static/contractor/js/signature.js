// Signing with a finger: keeps the strokes through turns of the phone and puts them into the hidden input, as points on a sheet.

import SignaturePad from "../vendor/signature_pad-5.1.4.min.js";

const INK = "#111111"; // the same on every screen: the sheet under it is white on all of them

const tenth = (number) => Math.round(number * 10) / 10;

// {"width", "height", "strokes": [[[x, y], ...], ...]}: small, and drawn again sharp at any size
const sheet = (canvas, pad) => {
  const strokes = pad.toData().map((group) => group.points.map((point) => [tenth(point.x), tenth(point.y)]));
  const points = strokes.flat();
  const side = (of, place) => Math.ceil(Math.max(of, ...points.map((point) => point[place])));
  return { width: side(canvas.offsetWidth, 0), height: side(canvas.offsetHeight, 1), strokes };
};

const fit = (canvas, pad) => {
  const strokes = pad.toData();
  const ratio = Math.max(window.devicePixelRatio || 1, 1);
  canvas.width = canvas.offsetWidth * ratio;
  canvas.height = canvas.offsetHeight * ratio;
  canvas.getContext("2d").scale(ratio, ratio);
  pad.clear();
  pad.fromData(strokes);
};

// What was drawn before the form came back with something to say.
const drawn = (text) => {
  try {
    return JSON.parse(text).strokes.map((points) => ({ penColor: INK, points: points.map(([x, y]) => ({ x, y, pressure: 0.5, time: 0 })) }));
  } catch {
    return [];
  }
};

const prepare = (box) => {
  if (box.dataset.ready) return;
  box.dataset.ready = "yes";
  const canvas = box.querySelector("canvas");
  const value = box.querySelector("[data-signature-value]");
  const pad = new SignaturePad(canvas, { penColor: INK, backgroundColor: "#ffffff" });
  if (value.value) pad.fromData(drawn(value.value));
  const keep = () => {
    value.value = pad.isEmpty() ? "" : JSON.stringify(sheet(canvas, pad));
  };
  pad.addEventListener("endStroke", keep);
  box.querySelector("[data-signature-clear]").addEventListener("click", () => {
    pad.clear();
    keep();
  });
  new ResizeObserver(() => fit(canvas, pad)).observe(canvas);
};

const prepareAll = (root) => root.querySelectorAll("[data-signature]").forEach(prepare);
prepareAll(document);
document.addEventListener("htmx:load", (event) => prepareAll(event.detail.elt));
