// The drawing of a page: its window, its levels, moving it, measuring on it. The page is whole without this module.

import "./cautions.js";
import "./measure.js";
import "./ties.js";
import "./view.js";
import "./window.js";

for (const one of document.querySelectorAll(".tools, .scripted")) one.hidden = false;

// what is opened over the drawing closes by Escape and by whatever is done elsewhere
const more = () => document.getElementById("more-facts");
const close = (event) => {
  if (more()?.open && !more().contains(event.target)) more().open = false;
};
document.addEventListener("pointerdown", close);
document.addEventListener("focusin", close);
document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || !more()?.open) return;
  more().open = false;
  more().querySelector("summary").focus();
});
