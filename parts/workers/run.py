"""A run: one long piece of work in a process of its own, with its progress and results in a folder.

Whoever holds its token may look at it, stop it and fetch its results; any process that serves pages finds it, since all
there is of it stands in its folder. It ends with the process that started it. Old folders are taken away when another
run is begun.

state.json   what it is about: `state` is one of STATES, the rest as its function tells
stop         is there once it is to end
alive        touched again and again while its process runs
job.pickle   what it was given
"""

import contextlib
import importlib
import json
import os
import pickle
import re
import secrets
import shutil
import subprocess
import sys
import tempfile
import threading
import time
import traceback
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from parts.errors import Busy
from parts.workers.here import become_worker, limit_memory, limit_processor, surroundings

RUNNING, DONE, STOPPED, FAILED = STATES = ("running", "done", "stopped", "failed")
"""`failed` is one that took more time or memory than it may, or came upon an error."""
MOST_RUNNING = 2
KEPT_S = 3600.0
"""How long a folder stays after its run was last about something."""
_LOOK_S, _GRACE_S = 0.2, 0.5
"""How often it is looked whether a run is to end, and how long it may take to."""
_TOKEN = re.compile(r"[A-Za-z0-9_-]{22}")
_STATE, _STOP, _JOB, _ALIVE = "state.json", "stop", "job.pickle", "alive"
_BEAT_S, _SILENT_S = 1.0, 40.0
"""How often a run says that it is there, and after how long a silence it isn't: who started it was ended."""

Tell: TypeAlias = Callable[[Mapping[str, Any]], None]
"""Tells how far a run is; raises `Stopping` once it is to end."""


class Stopping(BaseException):
    """The run is to end; no code in it may take this for an error of its own."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What a run does, `module:function` of a job, a folder and a `Tell`, and what it may take."""

    target: str
    processor_s: float
    wall_s: float
    memory_mb: int


@dataclass(frozen=True, slots=True)
class Run:
    """A run that was begun, by the folder that it works in."""

    folder: Path

    @property
    def token(self) -> str:
        """What it is asked for by; nobody guesses it."""
        return self.folder.name

    @property
    def state(self) -> Mapping[str, Any]:
        """How far it is, as its function told last."""
        try:
            found: Mapping[str, Any] = json.loads((self.folder / _STATE).read_bytes())
            silent_s = time.time() - (self.folder / _ALIVE).stat().st_mtime
        except (OSError, ValueError):
            return {"state": FAILED}
        is_gone = found["state"] == RUNNING and silent_s > _SILENT_S
        return {**found, "state": FAILED} if is_gone else found

    @property
    def job(self) -> Any:  # noqa: ANN401 - whatever it was given
        """What it was given."""
        return pickle.loads((self.folder / _JOB).read_bytes())[1]  # noqa: S301 - of this very project

    def stop(self) -> None:
        """Have it end: when it next tells how far it is, or soon after by force."""
        (self.folder / _STOP).touch()


def begin(limits: Limits, job: object, token: str = "") -> Run:
    """Begin a run and return it; its token is one that nobody guesses unless given.

    Raises:
        Busy: as many run as may.
    """
    base = _base()
    _sweep(base)
    running = sum(Run(path).state["state"] == RUNNING for path in base.iterdir())
    if running >= MOST_RUNNING:
        raise Busy(running)
    run = Run(base / (token or secrets.token_urlsafe(16)))
    run.folder.mkdir(mode=0o700, exist_ok=bool(token))
    (run.folder / _ALIVE).touch()
    _write(run.folder, {"state": RUNNING})
    (run.folder / _JOB).write_bytes(pickle.dumps((limits, job)))
    order = f"from parts.workers.run import work; work({str(run.folder)!r})"
    process = subprocess.Popen(  # noqa: S603 - this very project
        [sys.executable, "-P", "-c", order], stdin=subprocess.PIPE, env=surroundings(), start_new_session=True
    )
    threading.Thread(target=_watch, args=(process, run, limits.wall_s), daemon=True).start()
    return run


def find(token: str) -> Run | None:
    """Return the run of a token, None where there is none, or none any more."""
    folder = _base() / token
    return Run(folder) if _TOKEN.fullmatch(token) and folder.is_dir() else None


def work(folder: str) -> None:
    """Do the run of a folder: what the process does that was started for it."""
    run = Run(Path(folder))
    limits, job = pickle.loads((run.folder / _JOB).read_bytes())  # noqa: S301 - of the process that started this one
    become_worker()
    limit_memory(limits.memory_mb)
    limit_processor(limits.processor_s)
    threading.Thread(target=_end_with_it, daemon=True).start()
    threading.Thread(target=_beat, args=(run.folder / _ALIVE,), daemon=True).start()
    module, _, name = limits.target.partition(":")
    _write(run.folder, _worked(getattr(importlib.import_module(module), name), job, run))


def _worked(function: Callable[..., Mapping[str, Any]], job: object, run: Run) -> Mapping[str, Any]:
    told: dict[str, Any] = {}

    def tell(state: Mapping[str, Any]) -> None:
        told.update(state)
        _write(run.folder, {**told, "state": RUNNING})
        if (run.folder / _STOP).exists():
            raise Stopping

    try:
        result = function(job, run.folder, tell)
    except Stopping:
        return {**told, "state": STOPPED}
    except Exception:  # noqa: BLE001 - told to whoever serves, in its log
        sys.stderr.write(traceback.format_exc())
        return {**told, "state": FAILED}
    return {**told, **result, "state": DONE}


def _end_with_it() -> None:
    """End at once when the process that started this one has ended."""
    while os.read(0, 1):  # not by Python's own stdin, which nobody may hold when the process comes to its end
        pass
    os._exit(0)


def _beat(alive: Path) -> None:
    """Say again and again that the process is there."""
    while True:
        with contextlib.suppress(OSError):
            alive.touch()
        time.sleep(_BEAT_S)


def _watch(process: "subprocess.Popen[bytes]", run: Run, wall_s: float) -> None:
    """See the process end, or end it; say so where it couldn't."""
    end = time.monotonic() + wall_s
    while process.poll() is None:
        is_asked = (run.folder / _STOP).exists()
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(_GRACE_S if is_asked else _LOOK_S)
        if process.poll() is None and (is_asked or time.monotonic() > end):
            process.kill()
            process.wait()
    with contextlib.suppress(OSError):
        if process.stdin:
            process.stdin.close()
        if run.state["state"] == RUNNING:
            state = STOPPED if (run.folder / _STOP).exists() else FAILED
            _write(run.folder, {**run.state, "state": state})


def _write(folder: Path, state: Mapping[str, Any]) -> None:
    """Write how far a run is, whole or not at all."""
    new = folder / f".{_STATE}-{os.getpid()}"
    new.write_text(json.dumps(dict(state), ensure_ascii=False), encoding="utf-8")
    new.replace(folder / _STATE)


def _base() -> Path:
    """Where runs work: a folder that is this person's alone."""
    whose = getattr(os, "getuid", lambda: "own")()
    base = Path(tempfile.gettempdir()) / f"platewright-runs-{whose}"
    base.mkdir(mode=0o700, exist_ok=True)
    if hasattr(os, "getuid") and base.stat().st_uid != os.getuid():
        raise PermissionError(f"{base} is somebody else's folder")
    return base


def _sweep(base: Path) -> None:
    """Take away the folders of runs that are long over."""
    for folder in base.iterdir():
        with contextlib.suppress(OSError):
            if time.time() - folder.stat().st_mtime > KEPT_S:
                shutil.rmtree(folder, ignore_errors=True)
