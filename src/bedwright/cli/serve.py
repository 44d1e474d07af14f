"""The command that serves the pages, and the passwords of those who may sign in."""

from __future__ import annotations

import argparse
import getpass
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused, command

if TYPE_CHECKING:
    from bedwright.web.home import Home

_PORT, _MOST_PORT = 8477, 65_535
_USUAL = "gardener"


def add_serve(commands: object) -> None:
    """The arguments of ``bedwright serve``."""
    serve = command(
        commands, "serve", "the pages of your garden, on this machine", "bedwright serve --lan"
    )
    home_argument(serve)
    serve.add_argument(
        "--port", type=_port, default=_PORT, help=f"default: {_PORT}; 0: any free one"
    )
    serve.add_argument(
        "--demo", action="store_true", help="put the invented demo garden in, if it is not there"
    )
    serve.add_argument(
        "--lan",
        action="store_true",
        help="answer to other machines on the network too, with a password",
    )
    serve.add_argument(
        "--set-password",
        nargs="?",
        const=_USUAL,
        metavar="NAME",
        help=f"set a password anew (default name: {_USUAL}); without --lan do no more",
    )
    serve.add_argument(
        "--add-user", metavar="NAME", help="let one more sign in; without --lan do no more"
    )


def home_argument(parser: argparse.ArgumentParser) -> None:
    """The site's folder as an argument."""
    parser.add_argument(
        "--home", metavar="DIR", help="the folder that holds everything (default: ~/bedwright)"
    )


def home_of(given: argparse.Namespace) -> Path:
    """The site's folder that an argument names, or the usual one."""
    from bedwright.web.home import usual_folder

    return (Path(given.home).expanduser() if given.home else usual_folder()).resolve()


def serve(given: argparse.Namespace) -> None:
    """Serve the pages until interrupted."""
    from django.db import DatabaseError

    from bedwright.web.home import Home
    from bedwright.web.in_use import InUseError, use_alone
    from bedwright.web.serve import NotToServeError

    os.umask(0o077)  # what the site writes is for its owner alone
    folder = home_of(given)
    only_passwords = (given.set_password or given.add_user) and not given.lan
    try:
        if only_passwords:
            _prepare(given, folder)
            _passwords(given)
            return
        with use_alone(Home(folder)):
            _prepare(given, folder)
            if given.lan:
                _passwords(given)
            _answer(given, Home(folder))
    except InUseError:
        raise Refused(
            f"bedwright: the folder {folder} is served already; stop that first, or name "
            "another folder with --home"
        ) from None
    except NotToServeError as error:
        raise Refused(f"bedwright: {error}") from None
    except (OSError, DatabaseError) as error:
        raise Refused(f"bedwright: the folder {folder} cannot be used: {error}") from None
    except ValueError as error:
        if not str(error).startswith("BEDWRIGHT_"):
            raise
        raise Refused(f"bedwright: {error}") from None


def _tell(step: str) -> None:
    print(f"bedwright: {step}", file=sys.stderr)


def _prepare(given: argparse.Namespace, folder: Path) -> None:
    from bedwright.web.network import own_addresses, own_names
    from bedwright.web.serve import prepare

    hosts = (*own_addresses(), *own_names()) if given.lan else ()
    prepare(folder, _tell, lan=given.lan, hosts=hosts)
    if given.demo:
        from bedwright.web.views.start import demo_garden

        demo_garden()


def _passwords(given: argparse.Namespace) -> None:
    """Set the passwords that are asked for, and one in any case before others may come in."""
    from bedwright.web import users

    if given.add_user is not None:
        if users.is_known(given.add_user):
            raise Refused(
                f"bedwright: {given.add_user} may sign in already; "
                f"--set-password {given.add_user} sets the password anew"
            )
        _ask_password(given.add_user)
    if given.set_password is not None:
        _ask_password(given.set_password)
    elif not users.somebody_may_sign_in():
        _ask_password(_USUAL)


def _ask_password(name: str) -> None:
    from bedwright.web.users import UserError, check_name, set_password

    try:
        check_name(name)
    except UserError as error:
        raise Refused(f"bedwright: {error}") from None
    if not sys.stdin.isatty():
        raise Refused(
            "bedwright: nobody has a password yet, and here is no terminal to ask for one.\n"
            "Nothing was served. In a terminal run: bedwright serve --set-password"
        )
    try:
        while True:
            password = getpass.getpass(f"A password for {name} (at least 10 characters): ")
            if getpass.getpass("Once more: ") != password:
                print("The two differ; begin again.", file=sys.stderr)
                continue
            try:
                set_password(name, password)
            except UserError as error:
                print(str(error), file=sys.stderr)
                continue
            print(f"{name} may sign in with it.", file=sys.stderr)
            return
    except EOFError:
        raise Refused("bedwright: no password was given; nothing was changed") from None


def _answer(given: argparse.Namespace, home: Home) -> None:
    from bedwright.web.serve import answer

    # A server in front that speaks https is on this machine: nobody else need reach us.
    alone = not given.lan or os.environ.get("BEDWRIGHT_HTTPS") == "1"
    try:
        answer(
            home,
            "127.0.0.1" if alone else "0.0.0.0",
            given.port,
            _tell_network if given.lan else _tell_here,
            _tell,
        )
    except OSError as error:
        raise Refused(f"bedwright: port {given.port} cannot be used: {error.strerror}") from None
    except KeyboardInterrupt:
        pass


def _tell_here(port: int) -> None:
    print(f"The pages are at http://localhost:{port}/ (stop with Ctrl+C)", flush=True)


def _tell_network(port: int) -> None:
    from bedwright.web.network import in_terminal, own_addresses

    print(f"On this machine the pages are at http://localhost:{port}/ (stop with Ctrl+C)")
    if os.environ.get("BEDWRIGHT_HTTPS") == "1":
        print("Others reach them by the server in front, which speaks https.", flush=True)
        return
    found = own_addresses()
    if not found:
        print("This machine has no address on a network now: others can't reach it.", flush=True)
        return
    address = f"http://{found[0]}:{port}/"
    print(f"On the network they are at {address}")
    for other in found[1:]:
        print(f"or at http://{other}:{port}/")
    print("Use it on a network that you trust: over plain http a neighbor on it can read along.")
    if sys.stdout.isatty():
        print(in_terminal(address))
    sys.stdout.flush()


def _port(text: str) -> int:
    if text.isdecimal() and int(text) <= _MOST_PORT:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no port; it is a number from 0 to {_MOST_PORT}")
