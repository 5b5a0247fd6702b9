// One question at a time, and the newest of them: while one is answered the next waits, a newer one takes its place, and
// the answer to the older is dropped. Where none comes the page says so, and goes on asking until one does.

import { fetchIn } from "./own_font.js";

const PATIENCE_MS = 120; // the answer to an older question is waited for so long: given up, it shows nothing on the way
const SILENCE_MS = 5000;
const LONGEST_MS = 30000; // where nothing comes for so long the line is dead: asked anew, and then given twice as long
const AGAIN_MS = [1000, 2000, 4000, 8000];
const FULL_PAGE = 422; // a refusal is a whole page too

let now = null;
let next = null;
let failures = 0;
let count = 0;
let beside = new AbortController();
const timers = { patience: 0, silence: 0, longest: 0, again: 0 };

/** Fetch a page and hand it over, with whether it is a refusal and the address that says the same; or a newer one.
 *  `as`: "whole", or "following", without the fields of a form. What is `slow` is given up for a newer one at once. */
export const ask = (address, put, as = "whole", slow = false) => {
  next = { address, put, as, slow, turn: ++count };
  clearTimeout(timers.again);
  beside.abort();
  beside = new AbortController();
  if (!now) go();
  else if (now.slow) now.control.abort();
  else timers.patience ||= setTimeout(() => now?.control.abort(), PATIENCE_MS);
};

/** What gives up whatever is fetched besides the drawing, once a newer one is asked for. */
export const besides = () => beside.signal;

/** How the drawings that are shown were laid out, for those that follow them: of the part, and of its sections. */
const kept = () => {
  const said = [...document.querySelectorAll("#drawing > svg, #bent-part svg")].map(({ dataset }) => dataset.kept ?? "");
  return said.length ? { "Platewright-Kept": said.join(",") } : {};
};

/** Which question is the newest: what takes longer looks whether it is still of that one. */
export const turn = () => count;

const go = async () => {
  now = { ...next, control: new AbortController() };
  const question = now;
  next = null;
  clearTimeout(timers.silence);
  timers.silence = setTimeout(() => away(true), SILENCE_MS);
  timers.longest = setTimeout(() => question.control.abort(), LONGEST_MS * 2 ** failures);
  const page = await answered(question);
  clearTimeout(timers.patience);
  clearTimeout(timers.silence);
  clearTimeout(timers.longest);
  timers.patience = 0;
  now = null;
  if (next) go();
  else if (page) arrived(question, page);
  else failed(question);
};

const answered = async ({ address, as, control }) => {
  try {
    const answer = await fetchIn(address, { signal: control.signal, headers: { "Platewright-Live": as, ...kept() } });
    const text = await answer.text();
    const isPage = answer.ok || answer.status === FULL_PAGE;
    return isPage && { text, refused: !answer.ok, address: answer.headers.get("Content-Location") ?? answer.url };
  } catch {
    return null;
  }
};

const arrived = ({ put }, { text, refused, address }) => {
  failures = 0;
  away(false);
  put(new DOMParser().parseFromString(text, "text/html"), refused, address);
};

const failed = (question) => {
  away(true);
  next = question;
  timers.again = setTimeout(go, AGAIN_MS[Math.min(failures++, AGAIN_MS.length - 1)]);
};

const away = (is) => {
  const said = document.getElementById("away");
  if (said && said.hidden === is) said.hidden = !is;
};

addEventListener("online", () => {
  if (now || !next) return;
  clearTimeout(timers.again);
  go();
});
