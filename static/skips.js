// A skip leads the focus within the page and is no step of the browser's history, which walks through what was typed.

document.addEventListener("click", (event) => {
  const skip = event.target.closest(".skip");
  const to = skip && document.getElementById(skip.hash.slice(1));
  if (!to) return;
  event.preventDefault();
  to.focus();
});
