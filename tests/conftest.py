"""What all tests share: the counts of ``--full``, the day of planning, the invented gardens."""

import fcntl
import os
import pickle
import shutil
import signal
from collections.abc import Callable
from datetime import date
from importlib import resources
from pathlib import Path
from tempfile import mkdtemp

import django
import pytest
from hypothesis import HealthCheck, settings

from bedwright.garden import Document, load
from bedwright.reference import Library
from bedwright.season import SeasonPlan, season_plan

_HOME = pytest.StashKey[str]()
_CALM = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.function_scoped_fixture]
settings.register_profile(
    "default",
    max_examples=25,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=_CALM,
)
settings.register_profile(
    "full",
    max_examples=1000,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=_CALM,
)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--full", action="store_true", help="run the counts that the issues name (slow)"
    )


def pytest_configure(config: pytest.Config) -> None:
    # The site's settings read its folder when they load, before any fixture can make one.
    os.environ["BEDWRIGHT_HOME"] = config.stash.setdefault(_HOME, mkdtemp(prefix="bedwright-"))
    os.environ["BEDWRIGHT_AS_OF"] = "2026-11-25"
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"  # the browser driver runs a loop in our thread
    os.environ["DJANGO_SETTINGS_MODULE"] = "bedwright.web.settings"
    django.setup()
    settings.load_profile("full" if config.getoption("--full") else "default")


def pytest_unconfigure(config: pytest.Config) -> None:
    shutil.rmtree(config.stash[_HOME], ignore_errors=True)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if shutil.which("chromium") is None:
        blind = pytest.mark.skip(reason="no Chromium is installed: browser tests are left out")
        for item in items:
            if item.get_closest_marker("browser") is not None:
                item.add_marker(blind)
    if config.getoption("--full"):
        return
    skip = pytest.mark.skip(reason="runs with --full")
    for item in items:
        if item.get_closest_marker("full") is not None:
            item.add_marker(skip)


@pytest.fixture(scope="session")
def library() -> Library:
    return Library()


@pytest.fixture(scope="session")
def as_of() -> date:
    return date(2026, 11, 25)


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    return Path(str(resources.files("bedwright.demo")))


@pytest.fixture(scope="session")
def kestrel_bend(demo_folder: Path, library: Library, as_of: date) -> Document:
    return load(demo_folder / "kestrel_bend.toml", library, as_of)


@pytest.fixture(scope="session")
def ennery_flat(demo_folder: Path, library: Library, as_of: date) -> Document:
    return load(demo_folder / "ennery_flat.toml", library, as_of)


@pytest.fixture(scope="session")
def made_once(
    tmp_path_factory: pytest.TempPathFactory,
) -> Callable[[str, Callable[[], object]], object]:
    """What is costly to make and read by many tests: made by the first process that asks for it."""
    base = tmp_path_factory.getbasetemp()
    folder = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base

    def made(name: str, make: Callable[[], object]) -> object:
        kept = folder / f"{name}.pickle"
        with (folder / f"{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not kept.exists():
                kept.write_bytes(pickle.dumps(make()))
        return pickle.loads(kept.read_bytes())

    return made


@pytest.fixture(scope="session")
def kestrel_plan(made_once, kestrel_bend: Document, library: Library, as_of: date) -> SeasonPlan:
    return made_once("kestrel_plan", lambda: season_plan(kestrel_bend, library, as_of))


@pytest.fixture(scope="session")
def ennery_plan(made_once, ennery_flat: Document, library: Library, as_of: date) -> SeasonPlan:
    return made_once("ennery_plan", lambda: season_plan(ennery_flat, library, as_of))


@pytest.fixture
def ctrl_c_heard():
    """Ctrl-C is heard here and in what is started, even where the tests run in the background."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)
