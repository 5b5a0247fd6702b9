// What would mend the findings, asked once the drawing is there and typing rests: that takes longer than typing can wait.

import { turn } from "./ask.js";

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

const solve = async (query) => {
  const of = turn();
  const path = location.pathname.replace(/\/remedies$/, "");
  const answer = await fetch(`${path}/remedies.json${query}`).catch(() => null);
  if (!answer?.ok || of !== turn()) return; // the link that asks for it stays
  const { remedies, questions } = await answer.json();
  if (of !== turn()) return;
  const offers = [...remedies, ...questions];
  if (offers.length) byId("told").textContent = `${byId("verdict").textContent} Offered: ${offers.map(({ link }) => link.text).join("; ")}`;
  for (const place of document.querySelectorAll(".mend")) {
    const remedy = offers.find(({ rule }) => rule === place.dataset.rule);
    place.replaceChildren(...(remedy ? offered(remedy) : []));
  }
};

/** Fill in the remedies of what is shown, which is at an address. */
export const offerRemedies = (address) => {
  clearTimeout(timer);
  if (document.querySelector(".mend .ask")) timer = setTimeout(() => solve(new URL(address, location).search), REST_MS);
};
