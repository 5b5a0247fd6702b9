// More rows at once. Without this module the button sends the form and gets the same rows back from the server.

const MORE = 4;
const MOST = 500;
const button = document.getElementById("more");

button?.addEventListener("click", (event) => {
  const body = document.querySelector(".readings tbody");
  const last = body?.lastElementChild;
  if (!last) return; // nothing to copy: the server knows what a row is
  event.preventDefault();
  let row = last;
  for (let count = 0; count < MORE; count++) {
    const index = Number(row.dataset.row) + 1;
    if (index >= MOST) break;
    row = body.appendChild(emptied(row, index));
  }
  body.querySelector(`tr[data-row="${Number(last.dataset.row) + 1}"] .r-measured input`)?.focus();
});

/** A copy of a row without what was typed or said in it. */
const emptied = (row, index) => {
  const copy = row.cloneNode(true);
  copy.dataset.row = index;
  copy.classList.remove("disagrees");
  for (const said of copy.querySelectorAll(".message, .beside")) said.remove();
  for (const cell of copy.querySelectorAll(".wrong")) cell.classList.remove("wrong");
  for (const field of copy.querySelectorAll("input, select")) {
    field.name = field.name.replace(/\.\d+$/, `.${index}`);
    field.setAttribute("aria-label", field.getAttribute("aria-label").replace(/row \d+/, `row ${index + 1}`));
    field.removeAttribute("aria-invalid");
    field.removeAttribute("aria-describedby");
    if (field.tagName === "INPUT") field.value = "";
    else field.selectedIndex = row.querySelector(`[name="${field.name.replace(/\d+$/, row.dataset.row)}"]`).selectedIndex;
  }
  return copy;
};
