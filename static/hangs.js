// The finished piece as it will look, which takes a second to make: it is asked for once its fold is open and typing rests.
// Until the newer picture is there the older stays, marked.

import { fetchIn } from "./own_font.js";

const REST_MS = 400;

const fold = document.getElementById("hangs-fold");
const picture = document.getElementById("hangs-picture");
const said = document.getElementById("hangs-said");
const place = document.getElementById("hangs");
let shown = ""; // the address whose picture is there
let asking = { address: "", control: null, timer: 0 };

const drop = () => {
  clearTimeout(asking.timer);
  asking.control?.abort();
  asking = { address: "", control: null, timer: 0 };
};

const put = async (blob, address) => {
  const before = picture.src;
  picture.src = URL.createObjectURL(blob);
  await picture.decode().catch(() => null);
  if (before) URL.revokeObjectURL(before);
  picture.hidden = false;
  shown = address;
};

const bring = async (address, { signal }) => {
  const answer = await fetchIn(address, { signal }).catch(() => null);
  const blob = answer?.ok && (await answer.blob().catch(() => null));
  if (signal.aborted) return;
  if (blob) await put(blob, address);
  said.textContent = blob ? "" : "No picture came: close this and open it again to ask anew.";
  asking = { address: "", control: null, timer: 0 };
  mark();
};

const wanted = () => place.querySelector("a")?.getAttribute("href") ?? "";
const mark = () => picture.classList.toggle("older", shown !== wanted());

/** Ask for the picture of the part that is shown, where it is looked at and isn't there. */
const look = () => {
  const address = wanted();
  mark();
  if (asking.address === address) return;
  drop();
  if (!fold.open || !address || address === shown) return;
  const control = new AbortController();
  said.textContent = shown ? "" : "Being drawn";
  asking = { address, control, timer: setTimeout(bring, shown ? REST_MS : 0, address, control) };
};

if (fold) {
  fold.addEventListener("toggle", look);
  new MutationObserver(look).observe(place, { childList: true });
  look();
}
