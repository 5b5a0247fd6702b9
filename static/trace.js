// What is chosen from a list is traced at once; what is typed, when Enter is pressed. Without this module the form's
// button does it.

const form = document.getElementById("own");

form.addEventListener("change", (event) => {
  if (event.target.matches("select") && form.elements.kept) form.requestSubmit();
});
