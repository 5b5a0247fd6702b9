// Bridges moved by hand: each is dragged along what it holds, or moved by the arrow keys, and its place stands in the
// field of the bridges, so that the address keeps it. Delete puts one back where it stood by itself.

const STEP = 0.02; // of the breadth of what it holds
const FAR = 0.1;
const END = 0.5;
const CLICK_PX = 3;
const MOVED = /([0-9a-z.]+):(-?[0-9]*\.?[0-9]+)/g;

const area = document.getElementById("drawing");
const field = () => document.querySelector('#dimensions [name="bridges"]');
const places = () => new Map([...(field()?.value ?? "").matchAll(MOVED)].map(([, key, share]) => [key, Number(share)]));
const put = document.createElement("button");
let used = ""; // the bridge that had the focus, for the drawing that comes next
let drag = null;

/** Write the places into the field, and have the drawing follow. */
const write = (all) => {
  field().value = [...all].map(([key, share]) => `${key}:${Number(share.toFixed(3))}`).join(" ");
  field().dispatchEvent(new Event("input", { bubbles: true }));
  offered();
};

/** Past the end of what it holds a bridge would hold nothing. */
const within = (share) => Math.min(END, Math.max(-END, share));

const moved = (key, share) => write(places().set(key, within(share)));

const back = (key) => {
  const all = places();
  if (all.delete(key)) write(all);
};

/** The button that puts all of them back, beside the field, where any is moved. */
const offered = () => {
  const row = field()?.closest(".row");
  if (!row) return;
  if (put.previousElementSibling !== row) row.after(put);
  put.hidden = !places().size;
};

const vector = (text) => text.split(" ").map(Number);

/** How far a bridge went, in breadths of what it holds, by two points of the window. */
const shares = (tie, [x0, y0], [x1, y1]) => {
  const out = tie.ownerSVGElement.getScreenCTM().inverse();
  const [from, to] = [new DOMPoint(x0, y0), new DOMPoint(x1, y1)].map((point) => point.matrixTransform(out));
  const [a, b] = vector(tie.dataset.share);
  return ((to.x - from.x) * a + (to.y - from.y) * b) / (a * a + b * b);
};

const shift = (tie, by) => {
  const [a, b] = vector(tie.dataset.share);
  tie.setAttribute("transform", `translate(${a * by} ${b * by})`);
};

const down = (event) => {
  const tie = event.target.closest?.(".pw-tie");
  if (!tie || event.button || area.classList.contains("measuring")) return;
  event.stopPropagation(); // the drawing itself stays where it is
  tie.focus({ preventScroll: true });
  tie.setPointerCapture(event.pointerId);
  drag = { tie, from: [event.clientX, event.clientY], by: 0, offset: Number(tie.dataset.offset) };
};

const move = (event) => {
  if (!drag) return;
  event.stopPropagation();
  const now = [event.clientX, event.clientY];
  if (!drag.far && Math.hypot(now[0] - drag.from[0], now[1] - drag.from[1]) < CLICK_PX) return;
  drag.far = true;
  drag.by = within(drag.offset + shares(drag.tie, drag.from, now)) - drag.offset;
  shift(drag.tie, drag.by);
};

const up = () => {
  if (!drag) return;
  const { tie, far, by, offset } = drag;
  drag = null;
  if (!far) return;
  moved(tie.dataset.tie, offset + by);
  field().dispatchEvent(new Event("change", { bubbles: true })); // a step of its own
};

/** A click on a bridge means nothing that lies under it. */
const click = (event) => {
  if (!event.target.closest?.(".pw-tie")) return;
  event.stopPropagation();
  event.preventDefault();
};

const keys = (event) => {
  const tie = event.target.closest?.(".pw-tie");
  if (!tie || event.ctrlKey || event.metaKey || event.altKey) return;
  const [a, b] = vector(tie.dataset.share);
  const [plus, minus] = Math.abs(a) >= Math.abs(b) ? ["ArrowRight", "ArrowLeft"] : ["ArrowUp", "ArrowDown"];
  const way = event.key === plus ? 1 : event.key === minus ? -1 : 0;
  const isBack = ["Delete", "Backspace"].includes(event.key);
  if (!way && !isBack) return;
  event.preventDefault();
  event.stopPropagation();
  if (isBack) return back(tie.dataset.tie);
  const by = way * (event.shiftKey ? FAR : STEP);
  const share = within(Number(tie.dataset.offset) + by);
  tie.dataset.offset = share;
  shift(tie, (Number(tie.dataset.by) || 0) + by);
  tie.dataset.by = (Number(tie.dataset.by) || 0) + by;
  moved(tie.dataset.tie, share);
};

/** What a drawing made anew has: each bridge is a stop for the keys and says what it is. */
const adopt = () => {
  for (const tie of area.querySelectorAll(".pw-tie")) {
    const percent = Math.round(100 * Number(tie.dataset.offset));
    tie.ownerSVGElement.setAttribute("role", "group"); // what is in a picture can't be reached
    tie.setAttribute("tabindex", "0");
    tie.setAttribute("role", "slider");
    tie.setAttribute("aria-label", `Bridge ${tie.dataset.tie}: arrows move it, Delete puts it back`);
    tie.setAttribute("aria-valuenow", percent);
    tie.setAttribute("aria-valuemin", -50);
    tie.setAttribute("aria-valuemax", 50);
    tie.setAttribute("aria-valuetext", `${percent} % of the breadth off the middle`);
    if (tie.dataset.tie === used && document.activeElement === document.body) tie.focus({ preventScroll: true });
  }
  offered();
};

if (area && field()) {
  put.type = "button";
  put.className = "put-back";
  put.textContent = "Put the bridges back";
  put.addEventListener("click", () => write(new Map()));
  area.addEventListener("pointerdown", down, true);
  area.addEventListener("pointermove", move, true);
  for (const end of ["pointerup", "pointercancel"]) addEventListener(end, up);
  area.addEventListener("click", click, true);
  area.addEventListener("keydown", keys, true);
  area.addEventListener("focusin", ({ target }) => {
    used = target.closest?.(".pw-tie")?.dataset.tie ?? "";
  });
  document.addEventListener("focusin", ({ target }) => {
    if (!area.contains(target)) used = "";
  });
  new MutationObserver((all) => all.some(({ target }) => target === area) && adopt()).observe(area, { childList: true });
  document.getElementById("dimensions").addEventListener("input", offered);
  adopt();
}
