// Everything folded is on paper. A style sheet says so too, to the browsers that know how; this is for the others.

let opened = [];

addEventListener("beforeprint", () => {
  opened = [...document.querySelectorAll("details:not([open])")];
  for (const fold of opened) fold.open = true;
});
addEventListener("afterprint", () => {
  for (const fold of opened) fold.open = false;
});
