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

// What takes long says so, and can be stopped: the page stays as it is then.
const WAIT_MS = 400;
let timer = 0;

const stopped = () => {
  clearTimeout(timer);
  document.getElementById("working")?.remove();
};

form.addEventListener("submit", (event) => {
  if (event.submitter?.name === "as") return; // a file comes, and the page stays
  stopped();
  const begun = Date.now();
  timer = setTimeout(() => {
    const line = Object.assign(document.createElement("p"), { id: "working", className: "working" });
    line.setAttribute("role", "status");
    const words = document.createElement("span");
    const stop = Object.assign(document.createElement("button"), { type: "button", textContent: "Stop" });
    stop.addEventListener("click", () => {
      window.stop();
      stopped();
    });
    line.append(words, " ", stop);
    document.querySelector(".view").prepend(line);
    const tick = () => {
      const seconds = Math.round((Date.now() - begun) / 1000);
      words.textContent = `Tracing, ${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
      timer = setTimeout(tick, 1000);
    };
    tick();
  }, WAIT_MS);
});
addEventListener("pageshow", stopped);

// Faithful to sturdy is a slider beside its number.
const sturdy = form.elements.sturdy;
if (sturdy) {
  const slider = Object.assign(document.createElement("input"), { type: "range", min: 0, max: 100, step: 5, className: "slider" });
  slider.value = sturdy.value;
  slider.setAttribute("aria-label", "Faithful to sturdy");
  slider.addEventListener("input", () => { sturdy.value = slider.value; });
  slider.addEventListener("change", () => {
    if (form.elements.kept) form.requestSubmit();
  });
  sturdy.addEventListener("input", () => { slider.value = sturdy.value; });
  document.getElementById("note-sturdy").prepend(slider);
}
