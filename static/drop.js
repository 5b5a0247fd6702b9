// A file dropped anywhere on the page goes into its file field.

const carriesFile = (event) => event.dataTransfer?.types.includes("Files");

/** Put the one file that is dropped on the page into a field, and then call `taken`. */
export const whenDropped = (field, taken) => {
  let over = 0;
  const dropping = (is) => document.documentElement.classList.toggle("dropping", is);
  addEventListener("dragenter", (event) => {
    if (carriesFile(event)) dropping(++over > 0);
  });
  addEventListener("dragleave", (event) => {
    if (carriesFile(event)) dropping(--over > 0);
  });
  addEventListener("dragover", (event) => {
    if (carriesFile(event)) event.preventDefault();
  });
  addEventListener("drop", (event) => {
    if (!carriesFile(event)) return;
    event.preventDefault();
    over = 0;
    dropping(false);
    if (event.dataTransfer.files.length !== 1) return;
    field.files = event.dataTransfer.files;
    taken();
  });
};
