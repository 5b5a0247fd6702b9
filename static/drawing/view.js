// Moving the drawing and looking closer, by wheel, drag, pinch, buttons and keys. The part changes its size; lines,
// lettering, arrowheads and marks keep theirs. What is looked at stays the same while the drawing is made anew.

const LEAST = 0.01;
const MOST = 80;
const FAR = 0.65; // smaller than this, lettering of this size would stand on itself
const STEP = 1.25;
const MOVE_PX = 60;
const CLICK_PX = 4; // a pointer that moves less than this has clicked

const area = document.getElementById("drawing");
const moves = document.querySelector(".moves");
const changed = new EventTarget();

let view = null; // px to a unit of the drawing, and its point in the middle of the window; null: all of it, as it comes
let kept = []; // what keeps its size, and about which point

export const svg = () => area.querySelector(":scope > svg.pw-drawing[data-scale]");
export const onChange = (work) => changed.addEventListener("change", work);

const numbers = (text) => (text.match(/-?[\d.]+(?:e-?\d+)?/g) ?? []).map(Number);
const size = () => ({ w: area.clientWidth, h: area.clientHeight });
const sheet = (of) => ({ w: Number(of.getAttribute("width")), h: Number(of.getAttribute("height")) });
const middle = (points) => [0, 1].map((i) => points.reduce((sum, p) => sum + p[i], 0) / points.length);
const pairs = (all) => all.flatMap((x, i) => (i % 2 ? [] : [[x, all[i + 1]]]));
const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** What keeps its size: each element, what turns it, and the point that stays where it is. */
const keepers = (drawn) => {
  const found = [];
  const keep = (element, [x, y]) => found.push({ element, turned: element.getAttribute("transform") ?? "", x, y });
  for (const text of drawn.querySelectorAll(".pw-text")) {
    const [x, y, px] = ["x", "y", "font-size"].map((name) => Number(text.getAttribute(name)));
    const foot = [x, y + 0.3 * px]; // its line, or its leader's elbow
    keep(text, text.closest(".pw-bends") ? [x, y] : foot);
    if (text.getAttribute("text-anchor") === "middle") continue;
    for (const line of text.parentElement.querySelectorAll(".pw-dimension-line")) {
      const ends = pairs(numbers(line.getAttribute("d"))); // the shelf that the lettering stands on, wholly or broken
      if (ends.every(([, level]) => Math.abs(level - foot[1]) < 0.01)) keep(line, foot);
    }
  }
  for (const arrow of drawn.querySelectorAll(".pw-arrow")) keep(arrow, numbers(arrow.getAttribute("d")));
  for (const dot of drawn.querySelectorAll(".pw-dot")) keep(dot, [dot.getAttribute("cx"), dot.getAttribute("cy")]);
  for (const flag of drawn.querySelectorAll(".pw-finding")) {
    const mark = flag.querySelector(".pw-mark");
    const at = mark.hasAttribute("cx") ? [mark.getAttribute("cx"), mark.getAttribute("cy")].map(Number) : middle(pairs(numbers(mark.getAttribute("d"))));
    const ends = [...flag.querySelectorAll(".pw-leader")].flatMap((line) => pairs(numbers(line.getAttribute("d"))));
    const touched = ends.sort((a, b) => apart(a, at) - apart(b, at))[0] ?? at; // so that it stays on its leader
    for (const one of flag.querySelectorAll(".pw-mark, .pw-number")) keep(one, touched);
  }
  return found;
};

const whole = () => {
  const { w, h } = size();
  const paper = sheet(svg());
  return { scale: Math.min(1, w / paper.w, h / paper.h), x: paper.w / 2, y: paper.h / 2 };
};

/** Show what is to be looked at. */
const show = () => {
  const drawn = svg();
  if (!drawn) return;
  area.classList.toggle("moved", Boolean(view));
  area.classList.toggle("far", Boolean(view) && view.scale < FAR);
  if (moves) moves.hidden = !view;
  if (view) {
    const { w, h } = size();
    const { scale, x, y } = view;
    drawn.setAttribute("viewBox", `${x - w / scale / 2} ${y - h / scale / 2} ${w / scale} ${h / scale}`);
    if (!kept.length) kept = keepers(drawn);
  } else {
    const { w, h } = sheet(drawn);
    drawn.setAttribute("viewBox", `0 0 ${w} ${h}`);
  }
  const less = view ? 1 / view.scale : 1;
  for (const { element, turned, x, y } of kept) {
    element.setAttribute("transform", view ? `${turned} translate(${x} ${y}) scale(${less}) translate(${-x} ${-y})` : turned);
  }
  changed.dispatchEvent(new Event("change"));
};

/** Look at all of it, as it comes. */
export const fit = () => {
  view = null;
  show();
};

/** Look at a box of the drawing. */
export const lookAt = ({ x, y, width, height }) => {
  const { w, h } = size();
  view = { scale: Math.min(MOST, (0.94 * w) / width, (0.94 * h) / height), x: x + width / 2, y: y + height / 2 };
  show();
};

/** The point of the drawing under a point of the window. */
export const pointAt = (clientX, clientY) => {
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(svg().getScreenCTM().inverse());
  return [x, y];
};

/** Look so much closer, at what is under a point of the window, else at the middle. */
const closer = (times, clientX, clientY) => {
  if (!svg()) return;
  const { scale, x, y } = view ?? whole();
  const next = Math.min(MOST, Math.max(LEAST, scale * times));
  const [px, py] = clientX === undefined ? [x, y] : pointAt(clientX, clientY);
  view = { scale: next, x: px + ((x - px) * scale) / next, y: py + ((y - py) * scale) / next };
  show();
};

/** Move the drawing by px. */
const move = (dx, dy) => {
  if (!svg()) return;
  const { scale, x, y } = view ?? whole();
  view = { scale, x: x - dx / scale, y: y - dy / scale };
  show();
};

const WAYS = { left: [MOVE_PX, 0], right: [-MOVE_PX, 0], up: [0, MOVE_PX], down: [0, -MOVE_PX] };

const keys = (event) => {
  if (event.target !== area || event.ctrlKey || event.metaKey || event.altKey || area.classList.contains("measuring") && event.key.startsWith("Arrow")) return;
  const way = event.key.startsWith("Arrow") && WAYS[event.key.slice(5).toLowerCase()];
  if (way) move(...way);
  else if (["+", "="].includes(event.key)) closer(STEP);
  else if (["-", "_"].includes(event.key)) closer(1 / STEP);
  else if (event.key === "0") fit();
  else return;
  event.preventDefault();
};

/** The wheel looks closer where the page itself doesn't scroll, or where it is plain that the drawing is meant. */
const wheel = (event) => {
  const scrolls = document.documentElement.scrollHeight > innerHeight + 1;
  if (scrolls && !view && !event.ctrlKey && document.activeElement !== area) return;
  event.preventDefault();
  const px = event.deltaY * (event.deltaMode ? 16 : 1);
  closer(Math.exp(-0.0016 * px * (event.ctrlKey ? 4 : 1)), event.clientX, event.clientY);
};

const pointers = new Map();
let dragged = false;

const down = (event) => {
  if (event.button) return;
  if (!pointers.size) dragged = false;
  pointers.set(event.pointerId, [event.clientX, event.clientY]);
};

const drag = (event) => {
  const before = pointers.get(event.pointerId);
  if (!before || !svg()) return;
  const now = [event.clientX, event.clientY];
  const one = pointers.size === 1;
  if (one && event.pointerType !== "mouse" && !view) return; // one finger scrolls the page
  if (one && !dragged && apart(before, now) < CLICK_PX) return;
  if (!dragged) area.setPointerCapture(event.pointerId);
  dragged = true;
  if (one) move(now[0] - before[0], now[1] - before[1]);
  else {
    const other = [...pointers].find(([id]) => id !== event.pointerId)[1];
    const [mx, my] = middle([now, other]);
    const [bx, by] = middle([before, other]);
    closer(apart(now, other) / Math.max(1, apart(before, other)), mx, my);
    move(mx - bx, my - by);
  }
  pointers.set(event.pointerId, now);
};

const up = (event) => pointers.delete(event.pointerId);

/** What ends a drag is no click on what lies there. */
const click = (event) => {
  if (!dragged) return;
  dragged = false;
  event.stopPropagation();
  event.preventDefault();
};

let told = null; // what was looked at, in mm of the part from its middle

const remember = () => {
  const drawn = svg();
  if (!drawn || !view) return (told = null);
  const [x, y] = numbers(drawn.dataset.middle);
  const mm = Number(drawn.dataset.scale);
  told = { scale: view.scale * mm, x: (view.x - x) / mm, y: (view.y - y) / mm };
};

/** A drawing made anew: the same place of the part, as large as it was. */
const adopt = () => {
  kept = [];
  const drawn = svg();
  if (!drawn) return;
  reachable();
  const [x, y] = numbers(drawn.dataset.middle);
  const mm = Number(drawn.dataset.scale);
  view = told && { scale: told.scale / mm, x: x + told.x * mm, y: y + told.y * mm };
  show();
};

/** A drawing is a stop for the keys. */
const reachable = () => {
  if (!svg()) return;
  area.tabIndex = 0;
  area.setAttribute("role", "group");
  area.setAttribute("aria-label", "Drawing: plus and minus look closer or farther, arrows move it, 0 shows all, M measures");
};

const stock = document.getElementById("show-stock");
const showStock = () => {
  if (!stock.checked) return fit();
  const boxes = [...svg().querySelectorAll(".pw-stock, .pw-part")].map((group) => group.getBBox());
  const [x, y] = ["x", "y"].map((axis) => Math.min(...boxes.map((box) => box[axis])));
  const [right, low] = [["x", "width"], ["y", "height"]].map(([at, long]) => Math.max(...boxes.map((box) => box[at] + box[long])));
  lookAt({ x, y, width: right - x, height: low - y });
};

if (area) {
  reachable();
  area.addEventListener("keydown", keys);
  area.addEventListener("wheel", wheel, { passive: false });
  area.addEventListener("pointerdown", down);
  area.addEventListener("pointermove", drag);
  for (const end of ["pointerup", "pointercancel"]) addEventListener(end, up);
  area.addEventListener("click", click, true);
  area.addEventListener("dragstart", (event) => event.preventDefault());
  onChange(remember);
  new MutationObserver((all) => all.some(({ target }) => target === area) && adopt()).observe(area, { childList: true });
  new ResizeObserver(() => view && show()).observe(area);
  document.addEventListener("click", ({ target }) => {
    const { zoom, move: way } = target.closest?.("[data-zoom], [data-move]")?.dataset ?? {};
    if (zoom === "fit") fit();
    else if (zoom) closer(zoom === "in" ? STEP : 1 / STEP);
    else if (way) move(...WAYS[way]);
  });
  stock?.addEventListener("change", showStock);
  if (stock?.checked && svg()) showStock();
  let printed = null;
  addEventListener("beforeprint", () => {
    printed = view;
    fit();
  });
  addEventListener("afterprint", () => {
    view = printed;
    show();
  });
}
