// A visit that is moved to another hour lasts as long as before: its end follows its start.
const starts = document.querySelector("#id_starts");
const ends = document.querySelector("#id_ends");

const minutes = (clock) => {
  const [hour, minute] = clock.split(":").map(Number);
  return hour * 60 + minute;
};
const clock = (total) =>
  [Math.floor(total / 60), total % 60].map((part) => String(part).padStart(2, "0")).join(":");

if (starts && ends) {
  let before = starts.value;
  starts.addEventListener("change", () => {
    if (before && starts.value && ends.value) {
      const end = minutes(ends.value) + minutes(starts.value) - minutes(before);
      ends.value = end > 0 && end < 24 * 60 ? clock(end) : ""; // empty: after the expected time
    }
    before = starts.value || before;
  });
}
