// The switch of units in the head sends the form that it belongs to; whatever else listens to that form's sending
// would only redraw it.

document.addEventListener("submit", (event) => {
  if (event.submitter?.closest(".units-of")) event.stopImmediatePropagation();
}, { capture: true });
