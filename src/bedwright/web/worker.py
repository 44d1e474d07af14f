"""The worker: one process that does the asked work, each job in a child that can be stopped."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time

_POLL = 0.2  # s between two looks at the queue
_LAST_WORDS = 2.0  # s that a child is given to end by itself


def work() -> None:
    """Do jobs until the server that started this process ends (its end of our stdin closes)."""
    import django

    django.setup()
    from bedwright.web.jobs import claim, end
    from bedwright.web.models import Job

    gone = threading.Event()
    threading.Thread(target=_watch_parent, args=(gone,), daemon=True).start()
    # What was running when the last worker ended is asked for again.
    Job.objects.filter(state=Job.State.RUNNING).update(state=Job.State.WAITING, step="")
    while not gone.is_set():
        job = claim()
        if job is None:
            gone.wait(_POLL)
            continue
        child = subprocess.Popen(
            [sys.executable, "-m", "bedwright.web.one_job", str(job.pk)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,  # the solver prints now and then
            env=os.environ.copy(),
        )
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
