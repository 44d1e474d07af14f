"""Running the commands: honest exit codes, one clear message, never a traceback."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from importlib import import_module

from bedwright.cli.frame import Refused
from bedwright.cli.parser import parser

DONE, WRONG_INPUT, OWN_FAULT = 0, 2, 70
# Commands that stand in a module of their own; the others stand in ``commands``.
_ROOMS = {
    "backup": "backup",
    "book": "book",
    "calendar": "calendar",
    "compare": "compare",
    "dates": "dates",
    "feed": "feed",
    "layout": "layout",
    "ledger": "ledger",
    "plan": "plan",
    "record": "record",
    "restore": "backup",
    "rotate": "rotate",
    "serve": "serve",
    "sheets": "sheets",
    "spreadsheet": "spreadsheet",
    "water": "water",
    "weather": "weather",
    "week": "week",
}


def run(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code; the entry point of the console script."""
    given = parser().parse_args(arguments)
    try:
        room = import_module(f"bedwright.cli.{_ROOMS.get(given.command, 'commands')}")
        getattr(room, given.command)(given)
        sys.stdout.flush()
        return DONE
    except Refused as refused:
        print(refused, file=sys.stderr)
        return WRONG_INPUT
    except BrokenPipeError:
        # The reader of a pipe has gone, as with `| head`: nothing is wrong.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130
    except Exception as error:
        if os.environ.get("BEDWRIGHT_DEBUG"):
            raise
        print(
            f"bedwright: this is a fault of bedwright itself, not of your input: "
            f"{type(error).__name__}: {error}\nNothing was written by the step that failed. "
            f"Set BEDWRIGHT_DEBUG=1 to see where it happened.",
            file=sys.stderr,
        )
        return OWN_FAULT


if __name__ == "__main__":
    sys.exit(run())
