// The drawing follows the typing: the form's own address is asked for, and what changed is put in place.
// Without this module the form works as it stands.

const form = document.getElementById("dimensions");
const PAUSE_MS = 150;

if (form) {
  let timer = 0;
  let latest = 0;

  const address = () => {
    const asked = new URLSearchParams(new FormData(form));
    return `${form.action}?${asked}`;
  };

  const putMessages = (fresh) => {
    for (const row of form.querySelectorAll(".row")) {
      const other = fresh.querySelector(`.row[data-parameter="${row.dataset.parameter}"]`);
      if (!other) continue;
      row.className = other.className;
      row.querySelector(".hint").replaceWith(document.importNode(other.querySelector(".hint"), true));
      const field = row.querySelector("input, select");
      field.toggleAttribute("aria-invalid", other.classList.contains("wrong"));
    }
  };

  const redraw = async () => {
    const turn = ++latest;
    const wanted = address();
    let answer;
    try {
      answer = await fetch(wanted, { headers: { Accept: "text/html" } });
    } catch {
      return; // the server is away: what is shown stays, the form can still be sent
    }
    const text = await answer.text();
    if (turn !== latest) return; // a newer question is under way
    const fresh = new DOMParser().parseFromString(text, "text/html");
    const sheet = fresh.getElementById("sheet");
    if (!sheet) return;
    const open = document.querySelector("#sheet details")?.open;
    document.getElementById("sheet").replaceWith(document.importNode(sheet, true));
    if (open) document.querySelector("#sheet details").open = true;
    putMessages(fresh);
    history.replaceState(null, "", wanted);
    light(document.activeElement?.name);
  };

  const light = (name) => {
    for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
    if (!name) return;
    for (const part of document.querySelectorAll(`[data-parameter="${CSS.escape(name)}"]`)) part.classList.add("lit");
  };

  form.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(redraw, PAUSE_MS);
  });
  form.addEventListener("focusin", (event) => light(event.target.name));
  document.addEventListener("click", (event) => {
    const dimension = event.target.closest("#sheet [data-parameter]");
    if (dimension) document.getElementById(dimension.dataset.parameter)?.focus();
    const finding = event.target.closest("[data-finding]");
    if (finding) {
      for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
      const number = CSS.escape(finding.dataset.finding);
      for (const part of document.querySelectorAll(`[data-finding="${number}"]`)) part.classList.add("lit");
    }
  });
}
