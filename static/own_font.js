// A font of one's own: it stays in this browser, under the word by which an address means it, and goes along with whatever
// is asked for in it. Where it drew is told by a link; the font itself isn't in it.

const KEPT = "platewright-fonts";
const OWN = /^own-[0-9a-f]{12}$/;
const MOST = 12; // fonts kept
const byId = (id) => document.getElementById(id);
const here = new Map(); // those of this page, should the browser keep nothing

const store = () =>
  new Promise((done, fail) => {
    const opening = indexedDB.open(KEPT, 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore("fonts");
    opening.onsuccess = () => done(opening.result);
    opening.onerror = () => fail(opening.error);
  });

const asked = (request) =>
  new Promise((done, fail) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });

const fonts = async (mode, act) => {
  const open = await store();
  try {
    return await act(open.transaction("fonts", mode).objectStore("fonts"));
  } finally {
    open.close();
  }
};

const keep = async (word, file) => {
  here.set(word, file);
  try {
    await fonts("readwrite", async (all) => {
      await asked(all.put({ file, name: file.name, at: Date.now() }, word));
      const [words, kept] = [await asked(all.getAllKeys()), await asked(all.getAll())];
      const old = words.map((one, i) => [kept[i].at, one]).sort((a, b) => b[0] - a[0]).slice(MOST);
      for (const [, one] of old) await asked(all.delete(one));
    });
  } catch {
    // a browser that keeps nothing: it holds for this page
  }
};

const find = async (word) => {
  if (!here.has(word)) {
    const found = await fonts("readonly", (all) => asked(all.get(word))).catch(() => null);
    if (found) here.set(word, new File([found.file], found.name));
  }
  return here.get(word);
};

/** The word of the font of one's own that an address means; nothing where it means none. */
export const meant = (address) => {
  const word = new URL(address, location).searchParams.get("font") ?? "";
  return OWN.test(word) ? word : "";
};

const sentWith = (file) => {
  const body = new FormData();
  body.append("font_file", file, file.name);
  return body;
};

/** As `fetch`, with the font that the address means, where this browser has it. */
export const fetchIn = async (address, options = {}) => {
  const word = meant(address);
  const file = word && (await find(word));
  if (!file) return fetch(address, options);
  const headers = { "Platewright-Live": "whole", ...options.headers }; // else the page would carry the font along
  return fetch(address, { ...options, headers, method: "POST", body: sentWith(file) });
};

/** Whether what an address means can be drawn here: its font is in this browser. */
export const isHere = async (address) => Boolean(meant(address) && (await find(meant(address))));

const say = (text) => {
  byId("note-font_file").querySelector(".said").textContent = text ? `${text} ` : "";
};

/** Ask what a file is: the option of the list that means it, or why it can't be used. */
const looked = async (address, file) => {
  const answer = await fetch(address, { method: "POST", body: sentWith(file), headers: { "Platewright-Live": "whole" } }).catch(() => null);
  if (answer?.status === 413) return { why: "That is more than 10 MB, more than a font may have." };
  if (!answer || !(answer.ok || answer.status === 422)) return { why: "No answer from Platewright: choose it again." };
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const option = [...page.querySelectorAll("#font option")].find(({ value, selected }) => selected && OWN.test(value));
  return option ? { option } : { why: `${file.name}: ${page.querySelector("#note-font .message")?.textContent ?? "it can’t be used."}` };
};

/** Draw in a font that is chosen or dropped; `addressOf` says what the form asks for. */
export const ownFont = (form, addressOf) => {
  const choose = async (file) => {
    say(`${file.name} is looked at …`);
    const { option, why } = await looked(addressOf(), file);
    say(why ?? "");
    if (!option) return;
    await keep(option.value, file);
    const list = byId("font");
    list.querySelector(`option[value="${option.value}"]`)?.remove();
    list.append(document.importNode(option, true));
    list.value = option.value;
    list.dispatchEvent(new Event("input", { bubbles: true }));
    list.dispatchEvent(new Event("change", { bubbles: true }));
  };

  form.addEventListener("change", ({ target }) => {
    if (target.id === "font_file" && target.files.length) choose(target.files[0]);
  });
  const isOver = ({ target }) => target.closest?.('.own-font, .row[data-parameter="font"]');
  form.addEventListener("dragover", (event) => isOver(event) && event.preventDefault());
  form.addEventListener("drop", (event) => {
    const file = event.dataTransfer?.files[0];
    if (!file || !isOver(event)) return;
    event.preventDefault();
    event.stopPropagation(); // the page takes a saved part
    choose(file);
  });
};

/** A file in such a font is fetched and handed over, since a link can't take the font along. */
document.addEventListener("click", async (event) => {
  const link = event.target.closest?.("#files a[download]");
  if (!link || !meant(link.href)) return;
  event.preventDefault();
  const answer = await fetchIn(link.href).catch(() => null);
  if (!answer?.ok) {
    byId("told").textContent = answer ? "The font’s file isn’t in this browser: choose it again." : "No answer from Platewright.";
    return;
  }
  const named = /filename="([^"]+)"/.exec(answer.headers.get("Content-Disposition") ?? "")?.[1] ?? "part";
  const given = document.createElement("a");
  given.href = URL.createObjectURL(await answer.blob());
  given.download = named;
  given.click();
  setTimeout(() => URL.revokeObjectURL(given.href), 10000);
});
