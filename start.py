"""Start Platewright: see to the environment it needs and hand the words over to it.

    python3 start.py                    the web page (the same as: python3 start.py serve)
    python3 start.py WORDS ...          platewright WORDS ...
    python3 start.py dask WORDS ...     a scheduler or a worker of a cluster, for batch --scheduler
    python3 start.py test [WORDS ...]   all checks and tests, or pytest with these words
    python3 start.py test --deep ...    the same with the wider searches too

The page comes first: what only STEP solids need is brought while it is up, or when a command asks for a STEP file. What
this script says goes to standard error, so that a drawing written to standard output stays whole. It needs the
standard library only, and keeps to the syntax of Python 3.6, so that an old Python can still say what is missing.
"""

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

OLDEST = (3, 11)
if sys.version_info < OLDEST:
    sys.exit(
        "Platewright needs Python {}.{} or newer and this is Python {}.{}: please install a newer one "
        "from your system's packages or python.org.".format(*OLDEST, *sys.version_info[:2])
    )

ROOT = Path(__file__).resolve().parent
sys.path.insert(0, str(ROOT))

import setup_environment as kept  # noqa: E402 - an old Python is told so before it reads this
from setup_environment import CLUSTER, PAGE, PYTHON, SOLIDS, TESTS, say, variables  # noqa: E402
from setup_troubles import Trouble  # noqa: E402

INTERRUPTED = 130  # what a shell reports after Ctrl-C
DEEP = "PLATEWRIGHT_DEEP"  # what the tests read
UNCOMPILED = "PYTHONDONTWRITEBYTECODE"  # tests start Python hundreds of times, each to compile the tree
SOLIDS_NOTE = "PLATEWRIGHT_SOLIDS"  # the file that says why there are no solids (yet), for whoever asks for a STEP file
NOTE = ROOT / ".venv.solids"
MEANWHILE = "--meanwhile"
PATIENCE = 3  # seconds for the page to come up, or to end because its port is taken, before solids are brought
STEP_ASKED = re.compile(r".*\.step|(--format=)?([a-z]+,)*step(,[a-z]+)*", re.IGNORECASE)
CLUSTER_ASKED = re.compile(r"--sch(e(d(u(l(er?)?)?)?)?)?(=.*)?")  # as short as the command itself takes it

# the console command of pyproject.toml, spelled out: the project itself is not installed
PLATEWRIGHT = f"""
import sys
sys.argv[0] = "platewright"
try:
    from webapp.cli import main
    sys.exit(main())
except KeyboardInterrupt:
    sys.exit({INTERRUPTED})
"""

CHECKS = (("ruff check", ["ruff", "check", "."]), ("ruff format", ["ruff", "format", "--check", "."]))
TYPES = ["mypy"]
ON_EVERY_CORE = ["--processes", "auto"]
TEST_FOLDERS = ("browser", "setup", "web", "files", "property", "published", "unit")
BROWSERS = ("chromium", "chromium-browser", "chrome")


def main(words: list[str]) -> int:
    """Run what the words ask for, with nothing said the page, and give its exit status."""
    if words[:1] == ["test"]:
        return status_of(test, words[1:])
    if words[:1] == ["dask"]:
        return status_of(dask, words[1:])
    if words[:1] == [MEANWHILE]:
        return status_of(meanwhile, int(words[1]))
    return platewright(words or ["serve"])


def platewright(words: list[str]) -> int:
    """Run the command `platewright` with these words and give its exit status."""
    return status_of(command, words)


def status_of(action: Callable[..., int], *arguments: object) -> int:
    """Do one thing and give its exit status; a failure of the set-up is told in a sentence."""
    try:
        kept.tidy()
        return action(*arguments)
    except Trouble as trouble:
        say(str(trouble))
    except KeyboardInterrupt:
        return INTERRUPTED
    except OSError as error:
        say(f"Platewright can't be set up in {kept.VENV}: {error}")
    return 1


def command(words: list[str]) -> int:
    """Run `platewright WORDS` with what these words need; the page has the rest brought beside it."""
    kept.ensure(CLUSTER if words[:1] == ["batch"] and any(map(CLUSTER_ASKED.fullmatch, words)) else PAGE)
    page = words[:1] == ["serve"] and not {"-h", "--help"} & set(words)
    step = any(map(STEP_ASKED.fullmatch, words))
    if (page or step) and not (kept.is_whole(SOLIDS) or kept.is_refused(SOLIDS)):
        bring_meanwhile() if page else bring_solids()
    return hand_over(words)


def dask(words: list[str]) -> int:
    """Run a scheduler or a worker of Dask that can draw, by the words of its own command."""
    kept.ensure(CLUSTER)
    return subprocess.call([str(PYTHON), "-P", "-m", "dask", *words], env=variables())


def hand_over(words: list[str]) -> int:
    """Run `platewright WORDS` from the person's own folder; where the system allows it, become it."""
    program = [str(PYTHON), "-P", "-c", PLATEWRIGHT, *words]  # -P: files in that folder are no modules
    environment = {**variables(), SOLIDS_NOTE: str(NOTE)}
    if os.name != "nt":
        os.execve(program[0], program, environment)  # noqa: S606 - a shell would read the words anew
    return subprocess.call(program, env=environment)


def bring_solids() -> None:
    """Bring what STEP files need; where that fails, note why, and let the command say it."""
    try:
        kept.ensure(SOLIDS)
    except (Trouble, OSError) as error:
        say(str(error))
        note(f"It could not be brought: {getattr(error, 'reason', error)}.")
    else:
        note("" if kept.has_package("cadquery") else "It is not offered for this kind of machine.")


def note(sentence: str) -> None:
    """Write down why there are no solids, or that nothing stands against them."""
    NOTE.write_text(sentence, encoding="utf-8")


def bring_meanwhile() -> None:
    """Start bringing what STEP files need, in a process of its own beside the page that this one becomes."""
    note("It is still being brought: try again in a minute or two.")
    words = [str(Path(__file__).resolve()), MEANWHILE, str(os.getpid())]
    subprocess.Popen([sys.executable, "-P", *words], stdin=subprocess.DEVNULL)


def meanwhile(page: int) -> int:
    """Bring what STEP files need while the process of the page lives, and say how that went."""
    for name in (signal.SIGINT, signal.SIGTERM):
        signal.signal(name, signal.default_int_handler)
    time.sleep(PATIENCE)
    if not lives(page):
        return 0
    threading.Thread(target=end_with, args=(page,), daemon=True).start()
    getattr(os, "nice", int)(10)
    try:
        bring_solids()
    except KeyboardInterrupt:
        note("Bringing it was stopped when the page ended: it begins again with the page.")
        raise
    if not NOTE.read_text(encoding="utf-8"):
        say("STEP files can be made now.")
    return 0


def end_with(page: int) -> None:
    """Interrupt this process when the page has ended: nothing is fetched that no one waits for."""
    while lives(page):
        time.sleep(0.5)
    os.kill(os.getpid(), signal.SIGINT)


def lives(parent: int) -> bool:
    """Tell whether the process that started this one is still there; Windows ends both by itself."""
    return os.name == "nt" or os.getppid() == parent


def test(words: list[str]) -> int:
    """Run all checks and tests, or pytest with the words, `--deep` with the wider searches."""
    kept.ensure(TESTS)
    os.environ.pop(DEEP, None)
    os.environ.pop(UNCOMPILED, None)
    if "--deep" in words:
        os.environ[DEEP] = "1"
    rest = ["--processes" if word == "-n" else word for word in words if word != "--deep"]  # -n: what it was called
    return run_pytest(rest) if rest else run_everything()


def run_everything() -> int:
    """Run every check and test whatever fails before it, and name what failed at the end."""
    browser = bring_browser()
    failed = [name for name, words in CHECKS if run_step(name, words)]
    with ThreadPoolExecutor(1) as beside, tempfile.TemporaryFile() as said:
        types = beside.submit(call, TYPES, stdout=said, stderr=subprocess.STDOUT)  # on one core, for most of a minute
        tests = run_pytest([*ON_EVERY_CORE, *test_paths(with_browser=browser)])
        failed += [name for name, status in (("mypy", types.result()), ("pytest", tests)) if status]
        said.seek(0)
        print("\n== mypy ==\n" + said.read().decode(errors="replace"), flush=True)
    if not browser:
        failed.append("tests/browser (not run: no Chromium)")
    print("Failed: " + ", ".join(failed) if failed else "All checks and tests passed.", flush=True)
    return 1 if failed else 0


def run_pytest(words: list[str]) -> int:
    """Run pytest with these words and give its exit status."""
    return run_step("pytest", ["pytest", *words])


def run_step(name: str, words: list[str]) -> int:
    """Run one tool of the environment at the root of the tree, under a heading."""
    print(f"\n== {name} ==", flush=True)
    return call(words)


def call(words: list[str], **settings: object) -> int:
    """Run one tool of the environment at the root of the tree and give its exit status."""
    return subprocess.call([str(PYTHON), "-m", *words], cwd=str(ROOT), env=variables(), **settings)


def test_paths(with_browser: bool) -> list[str]:
    """List what pytest is to run, dearest first, that no long test is left alone at the end; then other folders."""
    found = {path.relative_to(ROOT / "tests").parts[0] for path in (ROOT / "tests").rglob("test_*.py")}
    order = {name: place for place, name in enumerate(TEST_FOLDERS)}
    names = sorted(found, key=lambda name: (order.get(name, len(order)), name))
    return [f"tests/{name}" for name in names if with_browser or name != "browser"]


def bring_browser() -> bool:
    """Install Chromium where it is missing and may be installed, and tell whether it is there."""
    rights = [] if getattr(os, "geteuid", lambda: 1)() == 0 else ["sudo", "-n"]  # -n: without a password
    if not any(map(shutil.which, BROWSERS)) and all(map(shutil.which, ["apt-get", *rights[:1]])):
        say("Installing Chromium for the browser tests ...")
        for words in (["update"], ["install", "-y", "--no-install-recommends", "chromium"]):
            subprocess.call([*rights, "apt-get", "-q", *words], stdin=subprocess.DEVNULL)
    found = any(map(shutil.which, BROWSERS))
    if not found:
        say("The browser tests need Chromium: please install it, then run the tests again.")
    return found


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
