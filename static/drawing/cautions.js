// Cautions are one line each until they are opened. Those that nobody has downloaded a file past yet open by
// themselves at the first one; this browser remembers which those were.

const KEY = "platewright.cautions";
const MOST = 400; // that are remembered

const read = () => {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
};

const keep = (texts) => {
  try {
    localStorage.setItem(KEY, JSON.stringify(texts.slice(-MOST)));
  } catch {
    // a browser that keeps nothing: they open each time
  }
};

const open = () => {
  const seen = read();
  const fresh = [...document.querySelectorAll("#cautions .line-of")].filter((one) => !seen.includes(one.textContent.trim()));
  if (!fresh.length) return;
  document.getElementById("care").open = true;
  for (const one of fresh) one.open = true;
  keep([...seen, ...fresh.map((one) => one.textContent.trim())]);
  const notes = document.querySelector(".notes");
  if (notes.scrollHeight > notes.clientHeight) notes.scrollTop += fresh[0].getBoundingClientRect().top - notes.getBoundingClientRect().top - 32;
  const told = document.getElementById("told");
  if (told) told.textContent = `Before you cut or use it: ${fresh.map((one) => one.textContent.trim()).join(" ")}`;
};

document.addEventListener("click", ({ target }) => target.closest?.("#files :is(a[download], button[name=as])") && open());
