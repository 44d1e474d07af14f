"""Long work in a process of its own: what it gives back, what it tells, and how it ends."""

import os
import signal
import sys
import threading
import time
from collections.abc import Callable

import pytest

from bedwright.child_process import ChildFailed, Stopped, in_child


def double(number: int, *, progress: Callable[[object], None]) -> int:
    progress(("step", number))
    return 2 * number


def chatter(*, progress: Callable[[object], None]) -> int:
    print("to the output")
    print("to the errors", file=sys.stderr)
    os.write(1, b"by a library's own code\n")
    return os.getpid()


def refuse(*, progress: Callable[[object], None]) -> None:
    raise LookupError("there is no bed '9'")


class Odd(Exception):
    def __init__(self, one: int, two: int) -> None:
        super().__init__(f"{one} and {two}")


def refuse_oddly(*, progress: Callable[[object], None]) -> None:
    raise Odd(1, 2)


def die(*, progress: Callable[[object], None]) -> None:
    os._exit(3)


def sleep(*, progress: Callable[[object], None]) -> None:
    progress(os.getpid())
    time.sleep(60)


def give_a_function(*, progress: Callable[[object], None]) -> object:
    return lambda: None


def gone(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return True
    return False


def test_the_result_comes_back_and_the_steps_are_told():
    told: list[object] = []

    assert in_child(double, (21,), told=told.append) == 42
    assert told == [("step", 21)]


def test_what_the_child_prints_never_reaches_our_output(capfd: pytest.CaptureFixture[str]):
    pid = in_child(chatter)

    assert pid != os.getpid()
    assert capfd.readouterr() == ("", "")


def test_an_exception_of_the_work_is_raised_as_it_was():
    with pytest.raises(LookupError, match="there is no bed '9'"):
        in_child(refuse)


def test_an_exception_that_can_not_travel_says_what_it_was():
    with pytest.raises(ChildFailed, match="Odd: 1 and 2"):
        in_child(refuse_oddly)


def test_a_child_that_dies_is_told_of():
    with pytest.raises(ChildFailed, match="exit code 3"):
        in_child(die)


def test_a_result_that_can_not_travel_is_told_of():
    with pytest.raises(ChildFailed, match="can't be handed over"):
        in_child(give_a_function)


def test_work_is_called_off_and_no_child_is_left():
    pids: list[int] = []

    with pytest.raises(Stopped):
        in_child(sleep, told=pids.append, stop=lambda: bool(pids), look_s=0.05)  # type: ignore[arg-type]

    assert gone(pids[0])


@pytest.mark.usefixtures("ctrl_c_heard")
def test_ctrl_c_ends_the_child_and_is_raised_here():
    pids: list[int] = []

    def told(pid: object) -> None:
        pids.append(int(str(pid)))
        threading.Timer(0.1, os.kill, (os.getpid(), signal.SIGINT)).start()

    with pytest.raises(KeyboardInterrupt):
        in_child(sleep, told=told, look_s=0.05)

    assert gone(pids[0])
