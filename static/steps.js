// The steps of the work in the browser's own history: one for each change of values, so that back and forward walk
// through them. A step begins with the first key and ends as the field is left, or after a rest. What is typed and not
// answered yet is kept in this tab, so that a reload has it too.

const REST_MS = 1000;
const BETWEEN_MS = 250; // browsers allow few changes of the address in a time
const FRAME_MS = 30; // the drawing is shown first
const KEY = "platewright.typed.";

let open = false;
let written = 0;
let later = null;
const timers = { rest: 0, write: 0 };

const kept = {
  get: (step) => {
    try {
      return JSON.parse(sessionStorage.getItem(KEY + step));
    } catch {
      return null;
    }
  },
  set: (step, typed) => {
    try {
      sessionStorage.setItem(KEY + step, JSON.stringify(typed));
    } catch {
      // a browser that keeps nothing: the address still has what was answered
    }
  },
  drop: (step) => {
    try {
      sessionStorage.removeItem(KEY + step);
    } catch {
      // as above
    }
  },
};

const write = () => {
  clearTimeout(timers.write);
  timers.write = 0;
  if (!later) return;
  history.replaceState(later.state, "", later.address);
  written = Date.now();
  later = null;
};

/** The first step: the page as it was loaded. What was typed there before and never answered is returned. */
export const begin = (typed) => {
  const step = history.state?.step;
  const lost = step && !history.state.answered && (kept.get(step) ?? history.state.typed);
  if (!step) history.replaceState({ step: crypto.randomUUID?.() ?? `${Date.now()}`, typed, answered: true }, "");
  return lost;
};

/** Something was typed: a new step, unless one is open. */
export const edited = (typed) => {
  if (!open) {
    write();
    history.pushState({ step: `${Date.now()}.${Math.random()}`, typed, answered: false }, "", location.href);
    open = true;
  }
  kept.set(history.state.step, typed);
  clearTimeout(timers.rest);
  timers.rest = setTimeout(settle, REST_MS);
};

/** What was typed is answered, and has an address. */
export const answered = (address, typed) => {
  kept.drop(history.state.step);
  later = { address, state: { step: history.state.step, typed, answered: true } };
  timers.write ||= setTimeout(write, Math.max(FRAME_MS, written + BETWEEN_MS - Date.now()));
};

/** The address of what is shown, also while the browser hasn't got it yet. */
export const shown = () => new URL(later?.address ?? location.href, location).href;

/** What comes next is another step. */
export const settle = () => {
  clearTimeout(timers.rest);
  write();
  const { step, answered } = history.state ?? {};
  const typed = open && !answered && kept.get(step);
  if (typed) history.replaceState({ step, typed, answered }, "");
  open = false;
};

/** Hand over each step that is gone back or forward to. */
export const walk = (to) =>
  addEventListener("popstate", ({ state }) => {
    if (!state?.step) return; // a jump within the page
    later = null;
    open = false;
    clearTimeout(timers.rest);
    to(kept.get(state.step) ?? state.typed, state.answered);
  });
