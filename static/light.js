// What belongs together lights up together: a row of the table and its dimension, a finding and its flag. A tap on the
// drawing leads to the field or the finding.

import { unfold } from "./regions.js";

const REACH_PX = 26; // a dimension is tapped within this distance of its lettering
const LINKED = "[data-parameter], [data-finding]";

const light = (from) => {
  for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
  const carrier = from?.closest?.(LINKED);
  if (!carrier) return;
  const kind = carrier.dataset.parameter ? "parameter" : "finding";
  const same = `[data-${kind}="${CSS.escape(carrier.dataset[kind])}"]`;
  for (const one of document.querySelectorAll(same)) one.classList.add("lit");
};

export const lightFocused = () => light(document.activeElement);

/** The dimension or flag at a point of the drawing, or the nearest within reach of a fingertip. */
const nearest = (drawing, event) => {
  const hit = event.target.closest(LINKED);
  if (hit) return hit;
  const gap = (group) => {
    const box = group.querySelector("text")?.getBoundingClientRect();
    if (!box) return Infinity;
    const dx = Math.max(box.left - event.clientX, 0, event.clientX - box.right);
    const dy = Math.max(box.top - event.clientY, 0, event.clientY - box.bottom);
    return Math.hypot(dx, dy);
  };
  const groups = [...drawing.querySelectorAll(LINKED)].map((group) => [gap(group), group]);
  return groups.filter(([far]) => far <= REACH_PX).sort((a, b) => a[0] - b[0])[0]?.[1];
};

/** Follow what is tapped on the drawing to its field, or to its place in the list. */
const follow = (drawing, event) => {
  const group = nearest(drawing, event);
  const listed = group?.dataset.finding && document.querySelector(`li[data-finding="${group.dataset.finding}"]`);
  const name = group?.dataset.parameter;
  const field = name && (document.getElementById(name) ?? document.querySelector(`tr[data-parameter="${CSS.escape(name)}"] :is(.r-measured, .r-flat) input`));
  unfold(listed || field);
  (listed || field)?.focus?.();
  if (field) field.select?.();
};

export const lights = (drawing) => {
  document.addEventListener("focusin", (event) => light(event.target));
  document.addEventListener("focusout", () => light(null));
  document.addEventListener("pointerover", (event) => {
    if (event.pointerType === "mouse") light(event.target.closest(LINKED) ?? document.activeElement);
  });
  drawing.addEventListener("click", (event) => follow(drawing, event));
};
