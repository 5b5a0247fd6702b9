// The drawing of a page: its window, its levels, moving it, measuring on it. The page is whole without this module.

import "./cautions.js";
import "./measure.js";
import "./view.js";
import "./window.js";

for (const one of document.querySelectorAll(".tools, .scripted")) one.hidden = false;
