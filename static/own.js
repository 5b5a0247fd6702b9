// A drawing of one's own: dropped on the sheet it is checked at once. The page works without this module: the file
// is chosen in the form, which is sent as any form, and the page that answers carries the file along.

import { whenDropped } from "./drop.js";

const form = document.getElementById("own");
const file = document.getElementById("file");
const drawing = document.getElementById("drawing");

const send = () => {
  // the new file takes the old one's place, and what was chosen of the old one's layers says nothing of it
  for (const old of form.querySelectorAll('[name="kept"], [name="kept_name"], [name="layer"], [name="outline"]')) old.remove();
  form.requestSubmit();
};

file.addEventListener("change", () => {
  if (file.files.length) send();
});

whenDropped(file, send);

/** A finding and its flag light up together. */
const light = (from) => {
  for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
  const number = from?.closest?.("[data-finding]")?.dataset.finding;
  if (!number) return;
  for (const one of document.querySelectorAll(`[data-finding="${CSS.escape(number)}"]`)) one.classList.add("lit");
};
document.addEventListener("focusin", (event) => light(event.target));
document.addEventListener("focusout", () => light(null));
document.addEventListener("pointerover", (event) => {
  if (event.pointerType === "mouse") light(event.target.closest("[data-finding]") ?? document.activeElement);
});
drawing.addEventListener("click", (event) => {
  const number = event.target.closest("[data-finding]")?.dataset.finding;
  if (number) document.querySelector(`li[data-finding="${CSS.escape(number)}"]`)?.focus();
});
