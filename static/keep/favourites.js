// Favourites: a star beside each part, and a list of the starred ones on top of the parts list. One starred on its own
// page keeps its values. The pages are whole without this module, which makes the stars.

import { explicit } from "./part.js";
import { favourites, keeps, onChange, setFavourites } from "./store.js";

const STAR = "M12 2.6l2.9 6 6.6.9-4.8 4.6 1.2 6.5L12 17.5l-5.9 3.1 1.2-6.5L2.5 9.5l6.6-.9z";

const toggle = (slug) => {
  const kept = favourites();
  const rest = kept.filter((other) => other.slug !== slug);
  setFavourites(rest.length < kept.length ? rest : [...kept, { slug, query: explicit() }]);
};

const starOf = (slug, title) => {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "star";
  button.dataset.star = slug;
  button.setAttribute("aria-label", `Favourite: ${title}`);
  button.title = "Favourite";
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("viewBox", "0 0 24 24");
  svg.setAttribute("aria-hidden", "true");
  svg.append(document.createElementNS(svg.namespaceURI, "path"));
  svg.firstChild.setAttribute("d", STAR);
  button.append(svg);
  return button;
};

/** Every star says whether it is set. */
const show = () => {
  const kept = favourites().map(({ slug }) => slug);
  for (const star of document.querySelectorAll("[data-star]")) star.setAttribute("aria-pressed", String(kept.includes(star.dataset.star)));
};

const copied = (row, query) => {
  const copy = row?.cloneNode(true);
  if (query) copy?.querySelector("a").setAttribute("href", `/parts/${row.dataset.slug}?${query}`);
  return copy;
};

/** The starred rows of the list, copied to the top; what a search leaves out is left out there too. */
const gather = (list, top) => {
  for (const row of list.querySelectorAll("[data-slug]")) {
    if (!row.querySelector(".star")) row.append(starOf(row.dataset.slug, row.querySelector(".name").textContent));
  }
  const rows = favourites().map(({ slug, query }) => copied(list.querySelector(`[data-slug="${CSS.escape(slug)}"]`), query)).filter(Boolean);
  top.querySelector("ul").replaceChildren(...rows);
  top.hidden = !rows.length;
  show();
};

const start = () => {
  const list = document.getElementById("list");
  const top = document.getElementById("favourites");
  const heading = document.querySelector("[data-favourite]");
  const redraw = list ? () => gather(list, top) : show;
  if (heading) heading.after(starOf(heading.dataset.favourite, heading.textContent));
  document.addEventListener("click", (event) => {
    const star = event.target.closest("[data-star]");
    if (!star) return;
    toggle(star.dataset.star);
    const place = star.closest("#favourites") && [...top.querySelectorAll(".star")].indexOf(star);
    redraw();
    if (typeof place !== "number") return;
    // the row is gone from the top: on to the next one there, or to the same part in the list
    const left = top.querySelectorAll(".star");
    const next = left[Math.min(place, left.length - 1)] ?? list.querySelector(`[data-star="${CSS.escape(star.dataset.star)}"]`);
    next.focus();
  });
  onChange(redraw);
  if (list) new MutationObserver(redraw).observe(list, { childList: true });
  redraw();
};

if (keeps()) start();
