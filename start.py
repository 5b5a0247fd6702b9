"""Start Platewright: make the environment it needs, once, and hand the words over to it.

    python3 start.py                    the web page (the same as: python3 start.py serve)
    python3 start.py WORDS ...          platewright WORDS ...
    python3 start.py test [WORDS ...]   all checks and tests, or pytest with these words

The *environment* is the folder `.venv` beside this file; a *lock* is a list of exact packages with
their hashes; the *stamp* says which locks are fully installed. What this script says goes to standard
error, so that a drawing written to standard output stays whole. It needs the standard library only, and
keeps to the syntax of Python 3.6, so that an old Python can still say what is missing.
"""

import hashlib
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

OLDEST = (3, 11)
if sys.version_info < OLDEST:
    sys.exit(
        "Platewright needs Python {}.{} or newer and this is Python {}.{}: please install a newer one "
        "from your system's packages or python.org.".format(*OLDEST, *sys.version_info[:2])
    )

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = VENV / "installed.txt"
LOG = VENV / "install.log"
BUSY = VENV / "busy.lock"
RUNTIME = "requirements.lock"
TESTING = "requirements-test.lock"  # the packages of RUNTIME at the same versions, and more
INTERRUPTED = 130  # what a shell reports after Ctrl-C

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

# what pip's log holds when an install fails -> what the person is told; the first that fits
TROUBLES = (
    ("DO NOT MATCH THE HASHES", "a download is not the file it should be; try again, or on another network"),
    ("No space left on device", "the disk is full"),
    ("onnection broken", "the package server could not be reached; please check the network and start again"),
    ("timed out", "the package server did not answer in time; start again"),
    ("No matching distribution", "a package is not offered for this Python or this kind of machine"),
)

# cheapest first; pytest comes after these
CHECKS = (
    ("ruff check", ["ruff", "check", "."]),
    ("ruff format", ["ruff", "format", "--check", "."]),
    ("mypy", ["mypy"]),
)
ON_EVERY_CORE = ["-n", "auto", "--dist", "worksteal"]  # tests take from a second to half a minute each
TEST_FOLDERS = ("unit", "property", "published", "files", "web", "browser")
BROWSERS = ("chromium", "chromium-browser", "chrome")


class Trouble(Exception):
    """Something the person at the keyboard has to put right; its text is one sentence."""


def main(words: list[str]) -> int:
    """Make sure of the environment, then run what the words ask for and give its exit status."""
    try:
        if words[:1] == ["test"]:
            ensure(TESTING)
            return run_pytest(words[1:]) if words[1:] else run_everything()
        ensure(RUNTIME)
        return hand_over(words or ["serve"])
    except Trouble as trouble:
        say(str(trouble))
    except KeyboardInterrupt:
        return INTERRUPTED
    except OSError as error:
        say(f"Platewright can't be set up in {VENV}: {error}")
    return 1


def say(text: str) -> None:
    """Tell the person what is going on."""
    print(text, file=sys.stderr, flush=True)


def hand_over(words: list[str]) -> int:
    """Run `platewright WORDS` from the person's own folder; where the system allows it, become it."""
    command = [str(PYTHON), "-P", "-c", PLATEWRIGHT, *words]  # -P: files in that folder are no modules
    if os.name != "nt":
        os.execve(command[0], command, environment())  # noqa: S606 - a shell would read the words anew
    return subprocess.call(command, env=environment())


def environment() -> dict[str, str]:
    """Give the variables for a Python of the environment: this tree is importable, no other is."""
    return {"PYTHONUTF8": "1", **os.environ, "PYTHONPATH": str(ROOT)}


def ensure(lock: str) -> None:
    """Install the packages of a lock unless they are there; one start at a time."""
    if is_installed(lock):
        return
    refuse_without_venv()
    VENV.mkdir(exist_ok=True)
    with BUSY.open("w") as busy:
        wait_for_turn(busy.fileno())
        if not is_installed(lock):
            install(lock)


def is_installed(lock: str) -> bool:
    """Tell whether the stamp has this lock as it is now, with the Python the environment has now."""
    if not (STAMP.exists() and PYTHON.exists()):
        return False
    return stamp_line(lock) in STAMP.read_text(encoding="utf-8").splitlines()


def stamp_line(lock: str) -> str:
    """Name a lock, its contents, and the Python behind the environment: a new one of any needs an install."""
    digest = hashlib.sha256((ROOT / lock).read_bytes()).hexdigest()
    return f"{lock} {digest} {PYTHON.resolve()}"


def refuse_without_venv() -> None:
    """Say what to install where Python came without the parts that make environments.

    Raises:
        Trouble: There is no ensurepip (some systems package it apart) or no venv.
    """
    try:
        import ensurepip  # noqa: F401, PLC0415 - only asks whether they are there, and only before an install
        import venv  # noqa: F401, PLC0415
    except ImportError:
        package = "python{}.{}-venv".format(*sys.version_info[:2])
        raise Trouble(
            f"This Python can't make environments: please install its venv package (on Debian and Ubuntu: "
            f"sudo apt-get install {package}), then start again."
        ) from None


def wait_for_turn(file: int) -> None:
    """Hold the lock on an open file, waiting while another start has it; its end gives it up."""
    if not hold(file):
        say("Another start is installing Platewright; waiting for it.")
        while not hold(file):
            time.sleep(0.3)


def hold(file: int) -> bool:
    """Try to lock an open file against other processes, and tell whether that worked."""
    try:
        if os.name == "nt":
            import msvcrt  # noqa: PLC0415 - exists on Windows only

            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl  # noqa: PLC0415 - exists elsewhere only

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            os.set_inheritable(file, True)  # pip holds it too: it may outlive a start that was killed
    except (BlockingIOError, PermissionError):
        return False
    return True


def install(lock: str) -> None:
    """Bring a lock's packages into the environment, made anew unless the runtime ones are in it.

    Without its stamp an environment counts for nothing: one left by an interrupted install is thrown away.

    Raises:
        Trouble: The install failed.
    """
    whole = [RUNTIME] if is_installed(RUNTIME) else []
    LOG.write_text("", encoding="utf-8")
    if STAMP.exists():
        STAMP.unlink()
    if not whole:
        say(f"Making an environment for Platewright in {VENV}")
        empty()
        outside = getattr(sys, "_base_executable", sys.executable)  # this one may just have been thrown away
        run_logged([outside, "-P", "-m", "venv", str(VENV)])
    try:
        run_pip(lock)
    except Trouble:
        stamp(whole)  # pip changes nothing before all is fetched: what was whole still is
        raise
    stamp([RUNTIME, lock])
    say("Installed.")


def stamp(locks: list[str]) -> None:
    """Write down which locks are fully installed."""
    STAMP.write_text("".join(stamp_line(lock) + "\n" for lock in locks), encoding="utf-8")


def empty() -> None:
    """Clear the environment's folder of all but this start's own lock and log."""
    for entry in VENV.iterdir():
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        elif entry not in (BUSY, LOG):
            entry.unlink()


def run_pip(lock: str) -> None:
    """Install exactly what a lock lists, nothing built here, nothing that its hash doesn't fit."""
    lines = (ROOT / lock).read_text(encoding="utf-8").splitlines()
    total = len({line.split("==")[0] for line in lines if "==" in line and line[0].isalnum()})
    say(f"Installing {total} packages, once; this takes a minute or two ...")
    options = ["--require-hashes", "--no-deps", "--only-binary", ":all:", "--progress-bar", "off"]
    quiet = ["--no-input", "--no-color", "--disable-pip-version-check"]
    run_logged([str(PYTHON), "-P", "-m", "pip", "install", *quiet, *options, "-r", str(ROOT / lock)], total)


def run_logged(command: list[str], total: int = 0) -> None:
    """Run a step of the install with its output in the log, telling of each tenth package.

    Raises:
        Trouble: The step failed; the reason is read from the log.
    """
    seen = 0
    pipes = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.STDOUT}
    text = {"encoding": "utf-8", "errors": "replace"}
    process = subprocess.Popen(command, env=environment(), close_fds=False, **pipes, **text)
    with process, LOG.open("a", encoding="utf-8") as log:
        for line in process.stdout or ():
            log.write(line)
            if line.startswith(("Collecting ", "Processing ", "Requirement already")):
                seen += 1
                if seen % 10 == 0:
                    say(f"  {seen} of {total} ...")
            if line.startswith("Installing collected"):
                say("  all fetched; unpacking them ...")
    if process.returncode:
        raise Trouble(f"The install failed: {reason()}. Details are in {LOG}")


def reason() -> str:
    """Read from the log why an install failed."""
    text = LOG.read_text(encoding="utf-8")
    told = [sentence for sign, sentence in TROUBLES if sign in text]
    return told[0] if told else (text.strip().splitlines() or ["no reason was given"])[-1].rstrip(".")


def run_everything() -> int:
    """Run every check and test whatever fails before it, and name what failed at the end."""
    browser = bring_browser()
    failed = [name for name, words in CHECKS if run_step(name, words)]
    if run_pytest([*ON_EVERY_CORE, *test_paths(with_browser=browser)]):
        failed.append("pytest")
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
    return subprocess.call([str(PYTHON), "-m", *words], cwd=str(ROOT), env=environment())


def test_paths(with_browser: bool) -> list[str]:
    """List what pytest is to run, cheapest first; what is not in TEST_FOLDERS comes before the browser."""
    found = {path.relative_to(ROOT / "tests").parts[0] for path in (ROOT / "tests").rglob("test_*.py")}
    order = {name: place for place, name in enumerate(TEST_FOLDERS)}
    names = sorted(found, key=lambda name: (order.get(name, len(order) - 1.5), name))
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
