// While an answer is outstanding the drawing is still that of other values than those typed. Where that takes long enough
// to be seen it is marked so, from the oldest value not yet drawn, and where it takes longer it is said, once.

const SEEN_MS = 150;
const SAID_MS = 1500;

const main = document.getElementById("main");
const timers = { seen: 0, said: 0 };

/** Something is asked that the drawing doesn't show yet. */
export const wait = () => {
  timers.seen ||= setTimeout(() => main.classList.add("late"), SEEN_MS);
  timers.said ||= setTimeout(say, SAID_MS);
};

/** The newest of what was asked is shown. */
export const arrived = () => {
  for (const name of Object.keys(timers)) {
    clearTimeout(timers[name]);
    timers[name] = 0;
  }
  main.classList.remove("late");
};

const say = () => {
  document.getElementById("told").textContent = "Still being drawn: the drawing isn\u2019t yet that of the values typed.";
};
