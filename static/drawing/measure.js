// The distance between two points of the part: ends, middles and centres of its lines and arcs, by pointer or by keys.

import { onChange, pointAt, svg } from "./view.js";

const REACH_PX = 22;
const NS = "http://www.w3.org/2000/svg";
const PLACES = { mm: 2, in: 3 };
const SAME_MM = 0.004; // what a drawing's coordinates, thousandths of a pixel, tell apart

const area = document.getElementById("drawing");
const button = document.querySelector("[data-measure]");
const said = document.createElement("p");

let points = []; // each place with its name, in units of the drawing
let chosen = []; // of those at most two
let near = null;

const apart = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);

/** The centre of an arc from `a` to `b`: of radius `r`, more than half of a circle or not, sweeping as SVG says. */
const centre = (a, b, r, large, sweep) => {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const half = Math.hypot(dx, dy) / 2;
  const rise = Math.sqrt(Math.max(0, r * r - half * half)) * (large === sweep ? -1 : 1);
  return { x: (a.x + b.x) / 2 - (dy / 2 / half) * rise, y: (a.y + b.y) / 2 + (dx / 2 / half) * rise };
};

/** The places of a path that can be measured from. */
const placesOf = (path) => {
  const found = [];
  const steps = path.getAttribute("d").match(/[MLAZ][^MLAZ]*/g) ?? [];
  let [at, first, round] = [null, null, null];
  const line = (to) => {
    if (at && (at.x !== to.x || at.y !== to.y)) found.push({ ...to, is: "end" }, { x: (at.x + to.x) / 2, y: (at.y + to.y) / 2, is: "middle" });
    at = to;
  };
  for (const step of steps) {
    const n = (step.match(/-?[\d.]+(?:e-?\d+)?/g) ?? []).map(Number);
    if (step[0] === "M") {
      at = first = { x: n[0], y: n[1] };
      found.push({ ...at, is: "end" });
    } else if (step[0] === "L") line({ x: n[0], y: n[1] });
    else if (step[0] === "Z") line(first);
    else {
      const to = { x: n[5], y: n[6] };
      const c = centre(at, to, n[0], n[3], n[4]);
      const turn = Math.atan2(to.y - c.y, to.x - c.x) - Math.atan2(at.y - c.y, at.x - c.x);
      const half = (n[4] ? (turn + 4 * Math.PI) % (2 * Math.PI) : -((4 * Math.PI - turn) % (2 * Math.PI))) / 2;
      const way = Math.atan2(at.y - c.y, at.x - c.x) + half;
      found.push({ ...to, is: "end" }, { x: c.x + n[0] * Math.cos(way), y: c.y + n[0] * Math.sin(way), is: "middle" }, { ...c, is: "centre" });
      at = to;
      round = c;
    }
  }
  const isCircle = steps.length <= 4 && steps.slice(1).every((step) => "AZ".includes(step[0]));
  return isCircle && round ? [{ ...round, is: "centre" }, ...found.filter(({ is }) => is !== "centre")] : found;
};

const collect = () => {
  const all = [...(svg()?.querySelectorAll(".pw-part path, .pw-marks path, .pw-bends path") ?? [])].flatMap(placesOf);
  const once = new Map(all.map((place) => [`${place.x.toFixed(2)} ${place.y.toFixed(2)}`, place]));
  points = [...once.values()];
};

const isOn = () => area.classList.contains("measuring");
const perPx = () => 1 / svg().getScreenCTM().a;

const put = (group, name, attributes) => {
  const element = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  group.append(element);
};

/** Draw what is chosen and what is near. */
const draw = () => {
  svg()?.querySelector(".pw-measure")?.remove();
  if (!isOn() || !svg()) return;
  const group = document.createElementNS(NS, "g");
  group.setAttribute("class", "pw-measure");
  const px = perPx();
  if (chosen.length === 2) put(group, "path", { class: "pw-measured", d: `M${chosen[0].x} ${chosen[0].y}L${chosen[1].x} ${chosen[1].y}` });
  for (const { x, y } of chosen) put(group, "circle", { class: "pw-snap", cx: x, cy: y, r: 4 * px });
  if (near) put(group, "circle", { class: "pw-snaps", cx: near.x, cy: near.y, r: 5 * px });
  svg().append(group);
};

/** 64ths of an inch as a mixed number in lowest terms, as the drawing's own dimensions are. */
const fraction = (count) => {
  let [rest, of] = [count % 64, 64];
  for (; rest && rest % 2 === 0; rest /= 2) of /= 2;
  const whole = Math.floor(count / 64);
  return rest ? `${whole ? `${whole}-` : ""}${rest}/${of}` : String(whole);
};

const inUnits = (units) => {
  const { scale, units: speaks } = svg().dataset;
  const mm = units / Number(scale);
  const count = Math.round((Math.abs(mm) / 25.4) * 64);
  if (speaks === "in" && mm >= 0 && Math.abs((count * 25.4) / 64 - mm) <= SAME_MM) return fraction(count);
  return String(Number((speaks === "in" ? mm / 25.4 : mm).toFixed(PLACES[speaks])));
};

const tell = () => {
  const unit = svg()?.dataset.units ?? "mm";
  if (!isOn()) said.textContent = "";
  else if (chosen.length === 2) {
    const [a, b] = chosen;
    said.textContent = `${inUnits(apart(a, b))} ${unit}: ${inUnits(Math.abs(a.x - b.x))} across, ${inUnits(Math.abs(a.y - b.y))} up`;
  } else {
    const [left, foot] = svg().dataset.foot.split(" ").map(Number);
    const where = near ? `${near.is}, ${inUnits(near.x - left)} ${unit} from the left, ${inUnits(foot - near.y)} ${unit} up` : "";
    said.textContent = near ? `${chosen.length ? "To" : "From"} the ${where}` : chosen.length ? "Now the second point" : "Choose two points: ends, middles, centres";
  }
};

const update = () => {
  draw();
  tell();
};

const choose = () => {
  if (!near) return;
  chosen = chosen.length === 2 ? [near] : [...chosen, near];
  update();
};

const approach = (event) => {
  if (!isOn() || !svg()) return;
  const [x, y] = pointAt(event.clientX, event.clientY);
  const reach = REACH_PX * perPx();
  const inReach = points.filter((place) => apart(place, { x, y }) <= reach);
  near = inReach.sort((a, b) => apart(a, { x, y }) - apart(b, { x, y }))[0] ?? null;
  update();
};

const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** The next point on that side: the nearest, what lies aside counting double. */
const step = ([ux, uy]) => {
  if (!near) near = [...points].sort((a, b) => a.x - b.x || b.y - a.y)[0] ?? null;
  else {
    const ahead = points.map((place) => {
      const [dx, dy] = [place.x - near.x, place.y - near.y];
      return { place, along: dx * ux + dy * uy, aside: Math.abs(dx * uy - dy * ux) };
    });
    const some = ahead.filter(({ along }) => along > 0.01).sort((a, b) => a.along + 2 * a.aside - b.along - 2 * b.aside);
    near = some[0]?.place ?? near;
  }
  update();
};

const turn = (on) => {
  area.classList.toggle("measuring", on);
  button.setAttribute("aria-pressed", String(on));
  [chosen, near] = [[], null];
  if (on) collect();
  update();
};

if (area && button) {
  said.className = "measure-said";
  said.setAttribute("role", "status");
  document.querySelector(".bar").append(said);
  button.addEventListener("click", () => turn(!isOn()));
  area.addEventListener("pointermove", approach);
  area.addEventListener("click", (event) => {
    if (!isOn()) return;
    event.stopPropagation();
    approach(event);
    choose();
  });
  area.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key.toLowerCase() === "m") turn(!isOn());
    else if (isOn() && event.key === "Escape") turn(false);
    else if (isOn() && WAYS[event.key]) step(WAYS[event.key]);
    else if (isOn() && ["Enter", " "].includes(event.key)) choose();
    else return;
    event.preventDefault();
  });
  onChange(draw);
  new MutationObserver((all) => {
    if (isOn() && all.some(({ addedNodes }) => [...addedNodes].some((node) => node.matches?.("svg.pw-drawing")))) turn(true);
  }).observe(area, { childList: true });
}
