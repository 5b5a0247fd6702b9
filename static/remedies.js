// What would mend the findings, and what leads on from a refusal, asked once the page is there and typing rests: to find
// that takes longer than typing can wait.

import { besides, turn } from "./ask.js";
import { fetchIn } from "./own_font.js";
import { steady } from "./sight.js";

const REST_MS = 300;
const byId = (id) => document.getElementById(id);
let timer = 0;

const aside = (name, text) => {
  const span = document.createElement("span");
  span.className = name;
  span.textContent = text;
  return span;
};

const offered = (remedy) => {
  const link = document.createElement("a");
  link.className = "remedy";
  link.href = remedy.address;
  link.textContent = (remedy.asks ? "Even so: " : "") + remedy.link.text;
  link.dataset.changes = JSON.stringify(Object.entries(remedy.link.values));
  const asks = remedy.asks ? [aside("asks", remedy.asks)] : []; // said before it can be taken
  return [...asks, link, ...(remedy.cost ? [aside("soft cost", remedy.cost.sentence)] : [])];
};

/** The answer of what mends the part at an address; nothing once something newer is asked for. */
const mending = async (address) => {
  const of = turn();
  const { pathname, search } = new URL(address, location);
  const answer = await fetchIn(`${pathname.replace(/\/remedies$/, "")}/remedies.json${search}`, { signal: besides() }).catch(() => null);
  const found = answer && (answer.ok || answer.status === 422) && (await answer.json().catch(() => null)); // given up amid it too
  return of === turn() && found;
};

const solve = async (address) => {
  const found = await mending(address);
  if (!found?.remedies) return; // the link that asks for it stays
  const { remedies, questions } = found;
  const offers = [...remedies, ...questions];
  if (offers.length) byId("told").textContent = `${byId("verdict").textContent} Offered: ${offers.map(({ link }) => link.text).join("; ")}`;
  steady(() => {
    for (const place of document.querySelectorAll(".mend")) {
      const remedy = offers.find(({ rule }) => rule === place.dataset.rule);
      place.replaceChildren(...(remedy ? offered(remedy) : []));
    }
  });
};

const changed = (address, values) => {
  const to = new URL(address, location);
  for (const [name, value] of Object.entries(values)) to.searchParams.set(name, value);
  return to.pathname + to.search;
};

/** Fill in the ways on from a refusal: links that are taken as remedies are. */
const lead = async (address) => {
  const found = await mending(address);
  const ways = (found?.ways ?? []).map((link) => offered({ address: changed(address, link.values), link })[0]);
  steady(() => {
    for (const place of document.querySelectorAll(".ways")) place.replaceChildren(...ways.map((way) => way.cloneNode(true)));
  });
  if (ways.length) byId("told").textContent = `Can be drawn with ${ways.map((way) => way.textContent).join(", or ")}`;
};

/** Fill in what mends the part that is shown, which is at an address, or leads on where it is refused. */
export const offer = (address) => {
  clearTimeout(timer);
  const isRefused = document.querySelector(".ways:empty");
  if (isRefused || document.querySelector(".mend .ask")) timer = setTimeout(isRefused ? lead : solve, REST_MS, address);
};
