// The window that the drawing is laid out for: its size and its level go along as a cookie, so that a pixel of the
// drawing is a pixel of the screen. Where they change, the drawing alone is asked for again.

import { fetchIn } from "../own_font.js";
import { shown } from "../steps.js";

const NAME = "drawing";
const SAME_PX = 6;
const LEAST_PX = 160;
const NARROW_PX = 560;
const PAUSE_MS = 120;

const area = document.getElementById("drawing");
const all = document.getElementById("show-all");
const asks = Boolean(document.getElementById("dimensions")); // an address makes this page; what was sent is gone

const cookie = () => document.cookie.split("; ").find((one) => one.startsWith(`${NAME}=`))?.slice(NAME.length + 1) ?? "";

const room = () => {
  const { paddingLeft, paddingTop } = getComputedStyle(area);
  return [area.clientWidth - 2 * parseFloat(paddingLeft), area.clientHeight - 2 * parseFloat(paddingTop)].map(Math.floor);
};

const remember = ([w, h]) => {
  const every = all ? all.checked : cookie().endsWith("-all");
  document.cookie = `${NAME}=${w}x${h}${every ? "-all" : ""}; path=/; max-age=31536000; samesite=lax`;
};

let turn = 0;

const isLike = (one, other) => one.every((px, i) => Math.abs(px - other[i]) <= SAME_PX);

/** Ask for the drawing alone; whatever has come meanwhile is newer, and of a window that is gone nothing is shown. */
const again = async () => {
  const [mine, address, drawn, asked] = [++turn, shown(), area.firstElementChild, room()];
  const answer = await fetchIn(address).catch(() => null);
  const text = await answer?.text();
  if (!text || mine !== turn || address !== shown() || drawn !== area.firstElementChild) return;
  const fresh = new DOMParser().parseFromString(text, "text/html").getElementById("drawing");
  if (!fresh?.firstElementChild || area.classList.contains("held") || !isLike(room(), asked)) return;
  area.replaceChildren(...document.importNode(fresh, true).childNodes);
  document.activeElement?.dispatchEvent(new FocusEvent("focusin", { bubbles: true })); // what is pointed at is lit again
};

let timer = 0;
const later = () => {
  clearTimeout(timer);
  timer = setTimeout(again, PAUSE_MS);
};

/** Remember the window as it is, and have the drawing made for it where it was made for another. */
const look = () => {
  if (matchMedia("print").matches) return; // paper is no window
  const now = room();
  const svg = area.querySelector(":scope > svg[data-window]");
  if (now.some((px) => px < LEAST_PX)) return;
  if (svg || now[0] < NARROW_PX) remember(now); // on a desk the place for a file is larger than the drawing's
  if (!svg) return;
  const before = svg.dataset.window.split(" ").map(Number);
  if (asks && !isLike(now, before)) later();
};

if (area) new ResizeObserver(look).observe(area);
if (all) {
  all.checked = cookie().endsWith("-all");
  all.addEventListener("change", () => {
    remember(room());
    again();
  });
}
