"""Long work in a process of its own: output kept apart, progress told, and it can be stopped.

A shell's tool: the engine itself starts no process. What is run is a function at the top of a
module, its arguments and result go through a pipe, so they must be such as can be pickled.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import pickle
import signal
import sys
import threading
from collections.abc import Callable, Mapping
from multiprocessing import resource_tracker
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Literal

Told = Callable[[Any], None]
_ENDS_S = 2.0  # that a stopped child gets before it is killed


class ChildFailed(RuntimeError):
    """The work ended without a result; it says how."""


class Stopped(RuntimeError):
    """The work was called off."""


def in_child(
    work: Callable[..., Any],
    arguments: tuple[Any, ...] = (),
    keywords: Mapping[str, Any] | None = None,
    *,
    told: Told | None = None,
    stop: Callable[[], bool] | None = None,
    look_s: float = 0.2,
) -> Any:
    """The result of ``work(*arguments, progress=..., **keywords)``, worked in a child process.

    Parameters
    ----------
    work : a function at the top of a module; it takes ``progress``, which it calls with whatever
        is to be told on the way
    arguments, keywords : handed to it
    told : called here with what ``progress`` was called with there
    stop : asked every ``look_s`` seconds; once it says yes the child is ended

    Whatever the child prints, by Python or by a library's own code, is thrown away. Ctrl-C ends the
    child and is raised here. An exception of the work is raised here as it was.

    Raises Stopped where ``stop`` said so, ChildFailed where the child ended without an answer.
    """
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    child = context.Process(
        target=_child, args=(theirs, work, arguments, dict(keywords or {})), daemon=True
    )
    try:
        _start(child)
        theirs.close()
        return _answer(ours, child, told, stop, look_s)
    finally:
        _end(child)
        ours.close()


def _start(child: Any) -> None:
    """Start a child that Ctrl-C does not reach, not even while it still imports its modules.

    It inherits that the signal is blocked. A Ctrl-C that comes here meanwhile is held and raised
    once the child is known, so that it can be ended: another thread may take the signal, so
    blocking it in this one does not hold it.
    """
    resource_tracker.ensure_running()  # it unblocks the signal where it is started
    held: list[int] = []
    main = threading.current_thread() is threading.main_thread()
    handler = signal.signal(signal.SIGINT, lambda *_: held.append(1)) if main else None
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        child.start()
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
        if main:
            signal.signal(signal.SIGINT, signal.SIG_DFL if handler is None else handler)
    if held:
        signal.raise_signal(signal.SIGINT)


def _answer(
    ours: Connection,
    child: Any,
    told: Told | None,
    stop: Callable[[], bool] | None,
    look_s: float,
) -> Any:
    while True:
        if stop is not None and stop():
            raise Stopped("the work was called off")
        if not ours.poll(look_s):
            if not child.is_alive() and not ours.poll(0):
                raise ChildFailed(f"the work ended without a result (exit code {child.exitcode})")
            continue
        try:
            kind, content = ours.recv()
        except EOFError:
            child.join(_ENDS_S)
            raise ChildFailed(
                f"the work ended without a result (exit code {child.exitcode})"
            ) from None
        if kind == "told":
            if told is not None:
                told(content)
        elif kind == "failed":
            raise content
        else:
            return content


def _end(child: Any) -> None:
    """No child outlives the call."""
    if child.pid is None:  # it was never started
        return
    child.join(0.0 if child.is_alive() else None)
    if child.is_alive():
        child.terminate()
        child.join(_ENDS_S)
    if child.is_alive():
        child.kill()
        child.join()
    child.close()


def _child(
    theirs: Connection,
    work: Callable[..., Any],
    arguments: tuple[Any, ...],
    keywords: dict[str, Any],
) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C goes to the parent, which ends us
    _keep_apart()
    kind: Literal["done", "failed"]
    try:
        content = work(*arguments, progress=lambda each: theirs.send(("told", each)), **keywords)
        kind = "done"
    except Exception as error:  # the parent raises it, whatever it is
        kind, content = "failed", _sendable(error)
    try:
        theirs.send((kind, content))
    except BrokenPipeError:
        return
    except Exception as error:
        theirs.send(("failed", ChildFailed(f"the result can't be handed over: {error}")))
    finally:
        theirs.close()


def _sendable(error: Exception) -> Exception:
    """The exception, or where it can't go through a pipe what it says."""
    try:
        pickle.loads(pickle.dumps(error))
    except Exception:
        return ChildFailed(f"{type(error).__name__}: {error}")
    return error


def _keep_apart() -> None:
    """Let nothing that is printed here reach the output of the parent, which may be piped JSON."""
    apart = os.open(os.devnull, os.O_WRONLY)
    for descriptor in (1, 2):
        with contextlib.suppress(OSError):
            os.dup2(apart, descriptor)
    os.close(apart)
    sys.stdout = sys.stderr = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115
