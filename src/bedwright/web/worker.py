"""The worker: one process that does the asked work, each job in a child that can be stopped."""

from __future__ import annotations

import logging
import os
import subprocess
import sys
import threading
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bedwright.web.models import Job

_POLL = 0.2  # s between two looks at the queue
_AFTER_FAULT = 5.0  # s before the queue is looked at again after a fault of the database
_LAST_WORDS = 2.0  # s that a child is given to end by itself


def work() -> None:
    """Do jobs until the server that started this process ends (its end of our stdin closes)."""
    import django

    django.setup()
    from django.db import DatabaseError

    from bedwright.web.daily_backups import keep_making
    from bedwright.web.home import home
    from bedwright.web.jobs import claim
    from bedwright.web.models import Job
    from bedwright.web.serve import database_elsewhere

    gone = threading.Event()
    threading.Thread(target=_watch_parent, args=(gone,), daemon=True).start()
    if not database_elsewhere():
        threading.Thread(target=keep_making, args=(home(), gone), daemon=True).start()
    left_over = True
    while not gone.is_set():
        try:
            if left_over:  # what was running when a worker ended, or failed, is asked for again
                Job.objects.filter(state=Job.State.RUNNING).update(state=Job.State.WAITING, step="")
                left_over = False
            job = claim()
            if job is not None:
                _do(job, gone)
                continue
        except DatabaseError:  # a locked database or a full disk passes
            left_over = True
            logging.getLogger("bedwright.web").exception("the worker")
            gone.wait(_AFTER_FAULT)
        gone.wait(_POLL)


def _do(job: Job, gone: threading.Event) -> None:
    from bedwright.web.jobs import end
    from bedwright.web.models import Job

    child = subprocess.Popen(
        [sys.executable, "-m", "bedwright.web.one_job", str(job.pk)],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,  # the solver prints now and then
        env=os.environ.copy(),
    )
    try:
        while child.poll() is None and not gone.is_set():
            time.sleep(_POLL)
            if Job.objects.filter(pk=job.pk, stop_asked=True).exists():
                _end(child)
                end(job, Job.State.STOPPED)
        if child.poll() is None:
            _end(child)
            Job.objects.filter(pk=job.pk).update(state=Job.State.WAITING)
        elif Job.objects.filter(pk=job.pk, state=Job.State.RUNNING).exists():
            end(job, Job.State.FAILED, f"the work ended by itself (code {child.returncode})")
    finally:
        if child.poll() is None:
            _end(child)


def _end(child: subprocess.Popen[bytes]) -> None:
    child.terminate()
    try:
        child.wait(_LAST_WORDS)
    except subprocess.TimeoutExpired:
        child.kill()
        child.wait()


def _watch_parent(gone: threading.Event) -> None:
    while sys.stdin.buffer.read(1):
        pass
    gone.set()


if __name__ == "__main__":
    work()
