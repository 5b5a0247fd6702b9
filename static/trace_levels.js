// The picture in black and white while its threshold is moved, as tracing will tell the shape from its ground: halfway,
// or as far as is asked, between the medians of its dark and its light. A picture in uneven light is told better later.

const form = document.getElementById("own");
const image = document.querySelector(".over-picture image");
const { threshold, shows } = form.elements;

/** Otsu's threshold of a histogram of 256 levels. */
const otsu = (counts) => {
  const total = counts.reduce((sum, n) => sum + n, 0);
  const all = counts.reduce((sum, n, level) => sum + n * level, 0);
  let below = 0, sum = 0, best = 0, at = 127;
  for (let level = 0; level < 255; level++) {
    below += counts[level];
    sum += counts[level] * level;
    if (!below || below === total) continue;
    const between = below * (total - below) * (sum / below - (all - sum) / (total - below)) ** 2;
    if (between > best) [best, at] = [between, level];
  }
  return at;
};

const median = (counts, from, to) => {
  const half = counts.slice(from, to + 1).reduce((sum, n) => sum + n, 0) / 2;
  for (let level = from, sum = 0; level <= to; level++) if ((sum += counts[level]) >= half) return level;
  return to;
};

const whole = image.getAttribute("href");
const source = new Image();
source.src = whole;

const show = () => {
  const share = Number(threshold.value.replace(",", ".")) / 100;
  if (!(share > 0 && share < 1) || !source.naturalWidth) return;
  const canvas = Object.assign(document.createElement("canvas"), { width: source.naturalWidth, height: source.naturalHeight });
  const pen = canvas.getContext("2d");
  pen.drawImage(source, 0, 0);
  const seen = pen.getImageData(0, 0, canvas.width, canvas.height);
  const counts = new Array(256).fill(0);
  for (let i = 0; i < seen.data.length; i += 4) counts[seen.data[i]]++;
  const parted = otsu(counts);
  const dark = median(counts, 0, parted), light = median(counts, parted + 1, 255);
  const level = dark + share * (light - dark);
  for (let i = 0; i < seen.data.length; i += 4) {
    const is = shows.value === "light" ? seen.data[i] < level : seen.data[i] >= level;
    seen.data.fill(is ? 255 : 0, i, i + 3);
  }
  pen.putImageData(seen, 0, 0);
  image.setAttribute("href", canvas.toDataURL("image/png"));
};

const back = () => image.setAttribute("href", whole);

const slider = Object.assign(document.createElement("input"), { type: "range", min: 2, max: 98, step: 1, className: "slider" });
slider.value = threshold.value;
slider.setAttribute("aria-label", "Threshold");
slider.addEventListener("input", () => {
  threshold.value = slider.value;
  show();
});
slider.addEventListener("change", () => form.requestSubmit());
threshold.addEventListener("input", () => {
  slider.value = threshold.value;
  show();
});
for (const field of [threshold, slider]) {
  field.addEventListener("focus", show);
  field.addEventListener("blur", back);
}
document.getElementById("note-threshold").prepend(slider);
