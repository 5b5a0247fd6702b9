// The part in space, in place of its drawing: nothing of it is loaded before it is asked for. Where it can't be turned,
// there is a still picture; while someone types, the older stays, marked, until the newer is there.

import { fetchIn } from "../own_font.js";

const REST_MS = 300;
const STEP_MS = 450;
const byId = (id) => document.getElementById(id);
const wants = byId("show-solid");
const place = byId("solid-at");
const [canvas, still, said, slider, next] = ["solid-view", "solid-still", "solid-said", "solid-bent", "solid-next"].map(byId);
let [view, mesh, shown, asking] = [null, null, "", null];

const addresses = () => {
  const link = place.querySelector("a");
  return link ? { json: link.dataset.mesh, svg: link.getAttribute("href") } : null;
};

/** Say how far it is bent: the bend that is being made, or the whole. */
const tell = () => {
  const at = Number(slider.value);
  const steps = [...new Map(mesh.hinges.map((hinge) => [hinge.step, hinge.said])).entries()].sort((a, b) => a[0] - b[0]);
  const now = steps[Math.ceil(at) - 1];
  const told = !at ? "Flat" : at >= steps.length ? "Bent" : `Step ${Math.ceil(at)} of ${steps.length}: ${now[1]}`;
  slider.setAttribute("aria-valuetext", told);
  byId("solid-step").textContent = told;
  next.textContent = at >= steps.length ? "Flat again" : `Make ${steps[Math.floor(at)][1].split(",")[0]}`;
};

const bendTo = (value) => {
  slider.value = value;
  view.bend(value);
  tell();
};

/** Make the next bend; at once where motion isn't wanted. */
const make = () => {
  const from = Number(slider.value);
  const to = from >= Number(slider.max) ? 0 : Math.floor(from) + 1;
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) return bendTo(to);
  const start = performance.now();
  const frame = (now) => {
    const share = Math.min((now - start) / STEP_MS, 1);
    bendTo(from + (to - from) * share);
    if (share < 1) requestAnimationFrame(frame);
  };
  return requestAnimationFrame(frame);
};

const take = (found) => {
  const before = mesh && Number(slider.value) / Number(slider.max || 1);
  mesh = found;
  const steps = new Set(mesh.hinges.map(({ step }) => step)).size;
  slider.max = steps;
  slider.value = (before ?? 1) * steps;
  byId("solid-bending").hidden = !steps;
  canvas.setAttribute("aria-label", `${mesh.said} Arrow keys turn it, plus and minus zoom, 0 fits it.`);
  view.show(mesh, Number(slider.value));
  if (steps) tell();
};

const asStill = async (address, signal) => {
  for (const one of [canvas, byId("solid-labels"), byId("solid-tools")]) one.hidden = true;
  const answer = await fetchIn(address, { signal }).catch(() => null);
  const picture = answer?.ok && (await answer.text());
  if (!picture) return;
  URL.revokeObjectURL(still.src);
  still.src = URL.createObjectURL(new Blob([picture], { type: "image/svg+xml" }));
  still.alt = new DOMParser().parseFromString(picture, "image/svg+xml").querySelector("title").textContent;
  still.hidden = false;
};

const bring = async ({ json, svg }, signal) => {
  if (!view) {
    const { viewOn } = await import("./view.js");
    view ??= viewOn(canvas, byId("solid-labels"));
  }
  if (!view) {
    shown = json;
    said.textContent = "This browser can’t turn it: here is a still picture.";
    return asStill(svg, signal);
  }
  const answer = await fetchIn(json, { signal }).catch(() => null);
  const found = await answer?.json().catch(() => null);
  if (signal.aborted) return null;
  asking = null;
  said.textContent = answer?.ok ? "" : found?.errors?.map(({ message }) => `It ${message}`).join(" ") ?? "No answer came: switch it off and on again.";
  byId("solid-stage").hidden = !answer?.ok;
  if (answer?.ok) {
    shown = json;
    byId("solid-stage").classList.remove("older");
    take(found);
  }
  return null;
};

/** Ask for the part that is shown on the page, where it is looked at and isn't there. */
const look = () => {
  const wanted = addresses();
  byId("solid-stage").classList.toggle("older", Boolean(mesh) && wanted?.json !== shown);
  if (asking?.json === wanted?.json) return;
  asking?.stop();
  asking = null;
  if (!wants.checked || !wanted || wanted.json === shown) return;
  const control = new AbortController();
  const timer = setTimeout(bring, mesh ? REST_MS : 0, wanted, control.signal);
  asking = { json: wanted.json, stop: () => (clearTimeout(timer), control.abort()) };
};

if (wants) {
  slider.addEventListener("input", () => bendTo(Number(slider.value)));
  next.addEventListener("click", make);
  byId("solid-in").addEventListener("click", () => view.zoomBy(1.25));
  byId("solid-out").addEventListener("click", () => view.zoomBy(0.8));
  byId("solid-fit").addEventListener("click", () => view.fit());
  wants.addEventListener("change", look);
  new MutationObserver(look).observe(place, { childList: true });
  look();
}
