"""Long work beside the pages: one worker process, progress, cancelling by ending it.

The worker stays ready, so that a job does not wait for the program to load. A job that is
cancelled takes the worker with it, and the next one starts a new worker.
"""

from __future__ import annotations

import itertools
import multiprocessing
import signal
import threading
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import dataclass, replace
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from queue import SimpleQueue
from typing import Any, Literal

from evencast.errors import EvencastError
from evencast.store.files import confined
from evencast.web.loaded import keep_loaded

State = Literal["waiting", "running", "done", "failed", "cancelled"]
OPEN: tuple[State, ...] = ("waiting", "running")

MOST_KEPT = 200

Asked = tuple[int, Callable[..., Any], tuple[Any, ...], Callable[[Any], Any]]


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of long work.

    subject : what it is for, such as a document and its set-up: one open job for each
    doing, done, of : how far it is
    result  : what it found; None until it is done
    error   : why it failed
    """

    number: int
    title: str
    subject: str
    state: State = "waiting"
    doing: str = ""
    done: int = 0
    of: int = 0
    result: Any = None
    error: EvencastError | None = None

    @property
    def is_open(self) -> bool:
        """Whether it still runs, or waits to."""
        return self.state in OPEN


class Jobs:
    """The jobs of one server, one at a time, in the order they came."""

    def __init__(
        self, changed: Callable[[Job], None] = lambda job: None, *, within: Path | None = None
    ) -> None:
        """changed : told of every change of a job, in a thread of its own
        within  : folder that the work may read files in; None where it may read any
        """
        self._changed, self._within = changed, within
        self._numbers = itertools.count(1)
        self._lock = threading.Lock()
        self._jobs: dict[int, Job] = {}
        self._queue: SimpleQueue[Asked | None] = SimpleQueue()
        self._worker: tuple[BaseProcess, Connection] | None = None
        self._runner = threading.Thread(target=self._run, name="jobs", daemon=True)
        self._runner.start()

    def start(
        self,
        title: str,
        subject: str,
        work: Callable[..., Any],
        *given: Any,
        then: Callable[[Any], Any] = lambda found: found,
    ) -> Job:
        """Work to be done: `work(*given, progress=...)`, both of which can be pickled. A job that
        is open for the same subject is cancelled.

        then : what is made here of what was found, such as a revision; the job's result
        """
        for each in self.every():
            if each.subject == subject and each.is_open:
                self.cancel(each.number)
        job = Job(next(self._numbers), title, subject)
        with self._lock:
            self._jobs[job.number] = job
            for number in sorted(self._jobs)[:-MOST_KEPT]:
                if not self._jobs[number].is_open:
                    del self._jobs[number]
        self._queue.put((job.number, work, given, then))
        return job

    def get(self, number: int) -> Job | None:
        """A job by its number; None where it is not known, or long gone."""
        with self._lock:
            return self._jobs.get(number)

    def every(self) -> list[Job]:
        """All that are known, oldest first."""
        with self._lock:
            return list(self._jobs.values())

    def cancel(self, number: int) -> Job | None:
        """End a job that is open."""
        job = self.get(number)
        if job is None or not job.is_open:
            return job
        was_running = job.state == "running"
        cancelled = self._update(number, state="cancelled")
        if was_running:
            self._end_worker()
        return cancelled

    def warm(self) -> None:
        """Have the worker ready before it is needed."""
        with self._lock:
            if self._worker is None:
                self._worker = _new_worker(self._within)

    def close(self) -> None:
        """End all work."""
        self._queue.put(None)
        self._end_worker()

    def _run(self) -> None:
        while (asked := self._queue.get()) is not None:
            job = self.get(asked[0])
            if job is not None and job.state == "waiting":
                self._do(*asked)

    def _do(
        self,
        number: int,
        work: Callable[..., Any],
        given: tuple[Any, ...],
        then: Callable[[Any], Any],
    ) -> None:
        self._update(number, state="running")
        self.warm()
        worker = self._worker
        assert worker is not None
        try:
            worker[1].send((work, given))
            while True:
                kind, told = worker[1].recv()
                if kind == "progress":
                    doing, done, of = told
                    self._update(number, doing=doing, done=done, of=of)
                    continue
                if kind == "done":
                    self._finish(number, told, then)
                else:
                    self._update(number, state="failed", error=told)
                return
        except (EOFError, OSError):
            self._end_worker()
            gone = EvencastError(
                "the work ended before it was done",
                where="worker",
                remedy="Start it again; if it happens twice, the log says more.",
            )
            self._update(number, state="failed", error=gone)

    def _finish(self, number: int, found: Any, then: Callable[[Any], Any]) -> None:
        """Makes of what was found what the job is for, unless it was cancelled meanwhile."""
        job = self.get(number)
        if job is None or not job.is_open:
            return
        try:
            self._update(number, state="done", result=then(found))
        except EvencastError as error:
            self._update(number, state="failed", error=error)
        except Exception as error:
            self._update(number, state="failed", error=_unexpected(error))

    def _update(self, number: int, **changes: Any) -> Job | None:
        """A job after a change; one that is closed already stays as it is."""
        with self._lock:
            job = self._jobs.get(number)
            if job is None or not job.is_open:
                return job
            job = self._jobs[number] = replace(job, **changes)
        self._changed(job)
        return job

    def _end_worker(self) -> None:
        with self._lock:
            worker, self._worker = self._worker, None
        if worker is not None:
            worker[0].kill()
            worker[0].join()
            worker[1].close()


def _new_worker(within: Path | None) -> tuple[BaseProcess, Connection]:
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(
        target=_serve, args=(theirs, within), name="evencast worker", daemon=True
    )
    process.start()
    theirs.close()
    return process, ours


def _serve(pipe: Connection, within: Path | None) -> None:
    """What the worker does: one job after the other, until the pipe is closed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which ends this too
    _make_ahead()

    def progress(doing: str, done: int, of: int) -> None:
        pipe.send(("progress", (doing, done, of)))

    while True:
        try:
            work, given = pipe.recv()
        except (EOFError, OSError):
            return
        try:
            with confined(within) if within else nullcontext():
                pipe.send(("done", work(*given, progress=progress)))
        except EvencastError as error:
            pipe.send(("failed", error))
        except Exception as error:
            pipe.send(("failed", _unexpected(error)))


def _make_ahead() -> None:
    """What most jobs need, so that the first does not wait for it."""
    import scipy.optimize  # noqa: F401

    import evencast.actions.solve  # noqa: F401
    from evencast.filters import generic, generic_names

    for name in generic_names():
        generic(name)
    keep_loaded()


def _unexpected(error: Exception) -> EvencastError:
    return EvencastError(
        f"something unexpected happened: {type(error).__name__}",
        where="worker",
        remedy="Nothing was changed. Keep the plan, and report what you did.",
    )
