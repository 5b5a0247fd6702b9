// What is chosen from a list is traced at once; what is typed, when Enter is pressed. Without this module the form's
// button does it.

const form = document.getElementById("own");

form.addEventListener("change", (event) => {
  if (event.target.matches("select") && form.elements.kept) form.requestSubmit();
});

// Two touches on the picture say from where to where a known distance runs, once it is given.
const picture = document.querySelector(".over-picture");
const known = form.elements.known;
const ends = [form.elements.known_from, form.elements.known_to];
let next = 0;

/** Draw the line between both points, or a dot while there is one. */
const draw = () => {
  picture.querySelector(".known")?.remove();
  const reduced = Number(picture.dataset.reduced) || 1;
  const [from, to] = ends.map((end) => end.value.split(/[ ,]+/).map((n) => Number(n) / reduced));
  if (from.length < 2) return;
  const line = document.createElementNS("http://www.w3.org/2000/svg", "line");
  line.setAttribute("class", "known");
  const [x, y] = to.length < 2 ? from.map((n) => n + 1) : to;
  for (const [name, value] of Object.entries({ x1: from[0], y1: from[1], x2: x, y2: y })) line.setAttribute(name, value);
  picture.append(line);
};

const pointing = () => /[1-9]/.test(known.value);

if (picture && known) {
  const told = () => picture.classList.toggle("pointing", pointing());
  known.addEventListener("input", told);
  told();
  draw();
  picture.addEventListener("click", (event) => {
    if (!pointing()) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse());
    const reduced = Number(picture.dataset.reduced) || 1;
    if (next === 0) ends[1].value = "";
    ends[next].value = `${Math.round(at.x * reduced)},${Math.round(at.y * reduced)}`;
    next = 1 - next;
    draw();
    if (next === 0) ends[1].dispatchEvent(new Event("change", { bubbles: true }));
  });
}
