// Signing with a finger: keeps the strokes through turns of the phone and puts a PNG into the hidden input.

import SignaturePad from "../vendor/signature_pad-5.1.4.min.js";

const INK = "#111111"; // the same on every screen: it is kept as a picture

const fit = (canvas, pad) => {
  const strokes = pad.toData();
  const ratio = Math.max(window.devicePixelRatio || 1, 1);
  canvas.width = canvas.offsetWidth * ratio;
  canvas.height = canvas.offsetHeight * ratio;
  canvas.getContext("2d").scale(ratio, ratio);
  pad.clear();
  pad.fromData(strokes);
};

const prepare = (box) => {
  const canvas = box.querySelector("canvas");
  const value = box.querySelector("[data-signature-value]");
  const pad = new SignaturePad(canvas, { penColor: INK, backgroundColor: "#ffffff" });
  const keep = () => {
    value.value = pad.isEmpty() ? "" : pad.toDataURL("image/png");
  };
  pad.addEventListener("endStroke", keep);
  box.querySelector("[data-signature-clear]").addEventListener("click", () => {
    pad.clear();
    keep();
  });
  new ResizeObserver(() => fit(canvas, pad)).observe(canvas);
};

document.querySelectorAll("[data-signature]").forEach(prepare);
