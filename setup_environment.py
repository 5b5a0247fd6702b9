"""Keep the environment of the checkout: the folder `.venv`, whole at every moment.

A *lock* is a list of exact packages with their hashes, and each lock here holds the one before it. A new environment
is built in `.venv.new` and takes the place of the old one by being renamed once it is whole, so that an install may
fail or be ended at any moment. The *stamp* in an environment says which locks it holds, where it stands, and how many
entries its folders have: that shows at the next start what has gone since. For `start.py`; standard library only.
"""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

from setup_troubles import NotOffered, Trouble, cause

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
NEW = ROOT / ".venv.new"
OLD = ROOT / ".venv.old"
LOG = ROOT / ".venv.log"
BUSY = ROOT / ".venv.lock"
STAMP = "installed.json"
SCRIPTS = "Scripts" if os.name == "nt" else "bin"
PACKAGES = "Lib/site-packages" if os.name == "nt" else "lib/python*/site-packages"
PYTHON = VENV / SCRIPTS / ("python.exe" if os.name == "nt" else "python")

PAGE = "requirements.lock"
SOLIDS = "requirements-solids.lock"
CLUSTER = "requirements-cluster.lock"
TESTS = "requirements-test.lock"
LOCKS = (PAGE, SOLIDS, CLUSTER, TESTS)
# what `pip download` fetches for each lock on Linux, rounded: 82, 480 and 650 MB
SIZES = {
    PAGE: "about 80 MB now; 400 MB more, for STEP solids, follow once the page is up or when first asked for",
    SOLIDS: "about 400 MB more, for STEP solids",
    CLUSTER: "about 490 MB: 80 for the page, 400 for STEP solids, 10 for a cluster",
    TESTS: "about 650 MB: 80 for the page, 400 for STEP solids, 170 for the tests",
}


def say(text: str) -> None:
    """Tell the person what is going on."""
    print(text, file=sys.stderr, flush=True)


def variables() -> dict[str, str]:
    """Give the variables for a Python of the environment: this tree is importable, no other is."""
    return {"PYTHONUTF8": "1", **os.environ, "PYTHONPATH": str(ROOT)}


def ensure(lock: str) -> None:
    """See to it that the environment holds a lock, mending or building it where it doesn't; one start at a time.

    Raises:
        Trouble: It can't be had; the environment that was there is as it was.
    """
    if is_whole(lock):
        return
    refuse_without_venv()
    if VENV.exists() and not VENV.is_dir():
        raise NotADirectoryError(f"{VENV} is a file")
    with BUSY.open("w") as busy:
        wait_for_turn(busy.fileno())
        settle()
        if not is_whole(lock):
            build(lock)


def is_whole(lock: str) -> bool:
    """Tell whether the environment holds this lock as it is now, stands where it was made, and has lost nothing."""
    stamp = read_stamp(VENV)
    return (
        stamp.get("locks", {}).get(lock) == digest(lock)
        and stamp["path"] == os.path.realpath(VENV)
        and stamp["python"] == os.path.realpath(PYTHON)
        and PYTHON.exists()
        and (VENV / "pyvenv.cfg").exists()
        and all(entries(VENV / folder) >= count for folder, count in stamp["entries"].items())
    )


def is_refused(lock: str) -> bool:
    """Tell whether the packages of a lock, as it is now, were found not to be offered for this machine."""
    return read_stamp(VENV).get("refused") == digest(lock)


def has_package(name: str) -> bool:
    """Tell whether a package's folder was installed: a lock may leave it out on some kinds of machine."""
    return any(Path(folder).name == name for folder in read_stamp(VENV).get("entries", {}))


def read_stamp(venv: Path) -> dict:
    """Read an environment's stamp; nothing where there is none or it isn't one."""
    try:
        found = json.loads((venv / STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) and found.keys() >= {"locks", "path", "python", "entries"} else {}


def write_stamp(venv: Path, stamp: dict) -> None:
    """Write an environment's stamp, whole or not at all."""
    unfinished = venv / (STAMP + ".new")
    unfinished.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
    unfinished.replace(venv / STAMP)


def stamp_for(venv: Path, lock: str) -> dict:
    """Say what an environment holds that is to stand at VENV."""
    packages = list(venv.glob(PACKAGES))
    folders = [venv / SCRIPTS, *packages, *(f for top in packages for f in top.iterdir() if f.is_dir())]
    return {
        "path": str(VENV),
        "python": os.path.realpath(venv / SCRIPTS / PYTHON.name),
        "locks": {name: digest(name) for name in LOCKS[: LOCKS.index(lock) + 1]},
        "entries": {f.relative_to(venv).as_posix(): entries(f) for f in folders if f.name != "__pycache__"},
    }


def entries(folder: Path) -> int:
    """Count what is in a folder, but for what Python puts there by itself; -1 where there is no such folder."""
    try:
        names = os.listdir(folder)  # noqa: PTH208 - some hundred folders at every start: paths would take as long again
    except OSError:
        return -1
    return len(names) - ("__pycache__" in names)


def digest(lock: str) -> str:
    """Give a lock's contents in short."""
    return hashlib.sha256((ROOT / lock).read_bytes()).hexdigest()


def tidy() -> None:
    """Finish what a start left half done, unless another start is at it now."""
    if not (os.path.lexists(NEW) or os.path.lexists(OLD)):
        return
    with BUSY.open("w") as busy:
        if hold(busy.fileno()):
            settle()


def settle() -> None:
    """Put the folders in order: a whole new environment in its place, half-made and old ones gone."""
    if read_stamp(NEW):
        swap()
    elif not os.path.lexists(VENV) and read_stamp(OLD):
        OLD.rename(VENV)
    remove(NEW)
    remove(OLD)
    stamp, here = read_stamp(VENV), os.path.realpath(VENV)
    if stamp and stamp["path"] != here:
        retarget(VENV, stamp["path"], here)
        write_stamp(VENV, {**stamp, "path": here})


def build(lock: str) -> None:
    """Make a new environment with a lock's packages and let it take the old one's place.

    Raises:
        Trouble: The install failed.
    """
    say(f"Installing Platewright's packages in {VENV}, once: {SIZES[lock]}.")
    try:
        LOG.write_text("", encoding="utf-8")
        outside = getattr(sys, "_base_executable", sys.executable)  # this Python may be the one to be replaced
        run_logged([outside, "-P", "-m", "venv", "--clear", "--prompt", VENV.name, str(NEW)])
        run_pip(lock)
        retarget(NEW, str(NEW), str(VENV))
        write_stamp(NEW, stamp_for(NEW, lock))
    except NotOffered:
        if stamp := read_stamp(VENV):
            write_stamp(VENV, {**stamp, "refused": digest(lock)})
        raise
    except KeyboardInterrupt:
        say("Stopped; what was installed before is as it was.")
        raise
    finally:
        if not read_stamp(NEW):
            remove(NEW)
    swap()
    say("Installed.")


def swap() -> None:
    """Let the new environment take the old one's place; after a kill at any line `settle` ends it.

    Raises:
        Trouble: The system holds on to the old one because it is in use, as Windows does.
    """
    remove(OLD)
    try:
        if os.path.lexists(VENV):
            VENV.rename(OLD)
        NEW.rename(VENV)
    except PermissionError:
        raise Trouble(
            "Platewright is running here: what is new comes in when it has ended, at the next start."
        ) from None
    remove(OLD)


def remove(path: Path) -> None:
    """Delete a folder, or a link to one; what can't be deleted now is tried again at the next start."""
    if path.is_symlink():
        path.unlink()
    shutil.rmtree(path, ignore_errors=True)


def retarget(venv: Path, old: str, new: str) -> None:
    """Let the scripts of an environment, which hold the path it was made at, hold another."""
    for file in (venv / "pyvenv.cfg", *(venv / SCRIPTS).iterdir()):
        if file.is_symlink() or not file.is_file():
            continue
        text = file.read_bytes()
        if os.fsencode(old) in text:
            unfinished = file.with_name(file.name + ".new")
            shutil.copy(file, unfinished)  # for its mode
            unfinished.write_bytes(text.replace(os.fsencode(old), os.fsencode(new)))
            unfinished.replace(file)


def run_pip(lock: str) -> None:
    """Install exactly what a lock lists, nothing built here, nothing that its hash doesn't fit."""
    lines = (ROOT / lock).read_text(encoding="utf-8").splitlines()
    total = len({line.split("==")[0] for line in lines if "==" in line and line[0].isalnum()})
    options = ["--require-hashes", "--no-deps", "--only-binary", ":all:", "--progress-bar", "off"]
    quiet = ["--no-input", "--no-color", "--disable-pip-version-check", "--no-warn-script-location"]
    later = ["--no-compile"] if lock == PAGE else []  # a third of the wait, and the page needs but a part of it
    python = str(NEW / SCRIPTS / PYTHON.name)
    pip = [python, "-P", "-m", "pip", "--log", str(LOG), "install", *quiet, *options, *later]
    run_logged([*pip, "-r", str(ROOT / lock)], total)


def run_logged(command: list[str], total: int = 0) -> None:
    """Run a step of the install, telling of each tenth package.

    Raises:
        Trouble: The step failed, for the reason that its output and the log give.
    """
    said, seen = [], 0
    pipes = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.STDOUT}
    text = {"encoding": "utf-8", "errors": "replace"}
    with subprocess.Popen(command, env=variables(), close_fds=False, **pipes, **text) as process:
        try:
            for line in process.stdout or ():
                said.append(line)
                if line.startswith(("Collecting ", "Processing ", "Requirement already")):
                    seen += 1
                    if seen % 10 == 0:
                        say(f"  {seen} of {total} ...")
                if line.startswith("Installing collected"):
                    say("  all fetched; unpacking them ...")
        except BaseException:
            process.kill()
            raise
    if process.returncode:
        log = LOG.read_text(encoding="utf-8", errors="replace")
        if "pip" not in command:
            LOG.write_text(log + "".join(said), encoding="utf-8")
        raise cause("".join(said), log, f"Details are in {LOG}")


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
