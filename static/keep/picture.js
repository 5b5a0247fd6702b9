// A picture of the drawing, made here from the one on the page: black on white, with its dimensions or without.

const LONG_PX = 2400;
const MARGIN = 0.03; // of the longer side
const FONT = "/static/vendor/barlow-400.woff2";
const NEVER = ".pw-finding, .pw-ties, [display=none], title, desc";

const encoded = async () => {
  const answer = await fetch(FONT).catch(() => null);
  if (!answer?.ok) throw new Error("The picture couldn’t be made: no answer from Platewright. Is it still running?");
  const bytes = new Uint8Array(await answer.arrayBuffer());
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return `@font-face{font-family:Barlow;src:url(data:font/woff2;base64,${btoa(text)})}`;
};

/** The drawing alone as a document of its own, and its box in its own units. */
const standing = async (drawing, bare) => {
  const part = drawing.querySelector(".pw-part") ?? drawing;
  const { x, y, width, height } = bare ? part.getBBox() : drawing.viewBox.baseVal;
  const edge = bare ? MARGIN * Math.max(width, height) : 0;
  const box = [x - edge, y - edge, width + 2 * edge, height + 2 * edge];
  const copy = drawing.cloneNode(true);
  for (const one of copy.querySelectorAll(NEVER)) one.remove();
  if (bare) for (const one of [...copy.children]) if (!one.matches(".pw-part")) one.remove();
  for (const lit of copy.querySelectorAll(".lit")) lit.classList.remove("lit");
  copy.setAttribute("viewBox", box.join(" "));
  copy.setAttribute("color", "#000");
  copy.setAttribute("font-family", "Barlow, sans-serif");
  copy.removeAttribute("style");
  const style = document.createElementNS(copy.namespaceURI, "style");
  style.textContent = bare ? "" : await encoded();
  copy.prepend(style);
  return { copy, width: box[2], height: box[3] };
};

const loaded = (address) =>
  new Promise((done, fail) => {
    const image = new Image();
    image.onload = () => done(image);
    image.onerror = () => fail(new Error("The picture couldn’t be made here; take the PDF or the SVG."));
    image.src = address;
  });

/** The picture as a PNG file. */
export const picture = async (drawing, bare) => {
  const { copy, width, height } = await standing(drawing, bare);
  const scale = LONG_PX / Math.max(width, height);
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  copy.setAttribute("width", canvas.width);
  copy.setAttribute("height", canvas.height);
  const address = URL.createObjectURL(new Blob([new XMLSerializer().serializeToString(copy)], { type: "image/svg+xml" }));
  try {
    const image = await loaded(address);
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#fff";
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(image, 0, 0, canvas.width, canvas.height);
  } finally {
    URL.revokeObjectURL(address);
  }
  return new Promise((done) => canvas.toBlob(done, "image/png"));
};
