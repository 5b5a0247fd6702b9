// What of the drawing is hidden until it is asked for: what is laid over it, and most dimensions of the second level. While
// someone types it is left out, and brought once typing rests.

import { besides } from "./ask.js";
import { lightFocused } from "./light.js";
import { fetchIn } from "./own_font.js";

export const FOLLOWING = "following";
const REST_MS = 300;
const AGAIN_MS = 2000;
const HIDDEN = ".pw-stock, .pw-slow, .pw-as-cut, .pw-spare";

const area = document.getElementById("drawing");
let timer = 0;
let lacking = null; // the drawing without it, and the address of its part

const ON_DRAWING = "bridges"; // moved by hand on the drawing, which has them when it is whole

/** How to ask while a parameter is typed: all of it where some is shown, else the dimensions of that parameter. */
export const following = (name) =>
  name === ON_DRAWING || document.querySelector(".switches :checked:not(#show-all, #show-solid)") ? FOLLOWING : `${FOLLOWING} ${name}`;

/** Bring what is left out of the drawing that is shown now, as it was asked for. */
export const bring = (address, as) => {
  clearTimeout(timer);
  lacking = as.startsWith(`${FOLLOWING} `) ? { address, drawn: area.firstElementChild } : null;
  if (lacking) timer = setTimeout(rest, REST_MS);
};

const rest = async () => {
  clearTimeout(timer);
  const mine = lacking;
  const answer = await fetchIn(mine.address, { headers: { "Platewright-Live": FOLLOWING }, signal: besides() }).catch(() => null);
  const text = answer?.ok && (await answer.text().catch(() => ""));
  if (mine !== lacking || mine.drawn !== area.firstElementChild) return; // a newer drawing is there
  if (!text) {
    timer = setTimeout(rest, AGAIN_MS);
    return;
  }
  lacking = null;
  put(mine.drawn, new DOMParser().parseFromString(text, "text/html"));
};

const groups = (of) => [...of.querySelectorAll(":scope > g:not(.pw-measure)")];
const lasting = (of) => groups(of).filter((group) => !group.matches(HIDDEN));
const isSame = (one, other) => ["kept", "scale", "middle"].every((name) => one.dataset[name] === other.dataset[name]);

const put = (drawn, fresh) => {
  const whole = fresh.querySelector("#drawing > svg");
  if (!whole || whole.dataset.window !== drawn.dataset.window) return; // of another window: asked for anew
  const isLike = isSame(whole, drawn) && lasting(whole).length === lasting(drawn).length;
  if (!isLike || area.classList.contains("moved")) area.replaceChildren(document.importNode(whole, true)); // what keeps its size is found anew
  else insert(drawn, groups(whole));
  const said = document.getElementById("as-cut-said");
  const other = fresh.getElementById("as-cut-said");
  said.textContent = other.textContent;
  if (!area.classList.contains("held")) said.className = other.className;
  lightFocused();
};

/** Put the hidden groups where they are among the others. */
const insert = (drawn, all) => {
  for (const group of groups(drawn)) if (group.matches(HIDDEN)) group.remove();
  let next = drawn.querySelector(":scope > g");
  for (const group of all) {
    if (group.matches(HIDDEN)) drawn.insertBefore(document.importNode(group, true), next);
    else next = next?.nextElementSibling;
  }
};

document.addEventListener("change", ({ target }) => target.closest(".switches") && lacking && rest());
