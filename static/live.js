// What every page has, and what the page at hand wants. All pages work without scripts.

import { acts } from "./keep/acts.js";
import "./keep/favourites.js";
import { shelf } from "./keep/shelf.js";
import "./paper.js";
import "./skips.js";
import "./stops.js";
import "./units.js";
import { part } from "./part.js";
import { search } from "./search.js";

document.documentElement.classList.add("live");
const dimensions = document.getElementById("dimensions");
const sought = document.getElementById("search");
if (dimensions) part(dimensions);
if (sought) search(sought);
if (dimensions) acts(document.getElementById("acts"), dimensions);
if (sought) shelf(document.getElementById("saved"), document.getElementById("list"));
