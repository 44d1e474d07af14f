"""The pages agree with the code: made pages are fresh, and nothing that exists goes unmentioned."""

import argparse
import importlib.util
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any, get_args

import pytest
from pydantic import BaseModel

from bedwright.cli.main import DONE, OWN_FAULT, WRONG_INPUT
from bedwright.cli.parser import parser
from bedwright.garden.model import Garden
from bedwright.garden.names import ANALYSIS
from bedwright.reckon import formulas
from bedwright.reference import Library
from bedwright.reference.tables import COLUMNS, SOURCE_COLUMNS

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_docs", ROOT / "scripts" / "make_docs.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def page(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def test_made_pages_are_fresh(maker: ModuleType, library: Library) -> None:
    found = [path.name for path in maker.stale(maker.pages(ROOT, library))]

    assert found == [], "run .venv/bin/python scripts/make_docs.py"


def test_a_changed_page_is_stale(maker: ModuleType, tmp_path: Path) -> None:
    kept, changed, missing = (tmp_path / name for name in ("a.md", "b.md", "c.md"))
    kept.write_text("as made\n", encoding="utf-8")
    changed.write_text("by hand\n", encoding="utf-8")

    found = maker.stale({kept: "as made\n", changed: "as made\n", missing: "as made\n"})

    assert found == [changed, missing]


def test_the_sample_keeps_what_stands_around_it(maker: ModuleType) -> None:
    readme = f"before\n\n{maker.BEGIN}\nold\n{maker.END}\n\nafter\n"

    found = maker.with_sample(readme, "new")

    assert found == f"before\n\n{maker.BEGIN}\nnew\n{maker.END}\n\nafter\n"
    with pytest.raises(ValueError, match="needs the lines"):
        maker.with_sample("no marks", "new")


def test_every_row_is_counted_under_its_source(maker: ModuleType, library: Library) -> None:
    counted = maker.rows_by_table(library)

    for table in COLUMNS:
        assert sum(counted[table].values()) == len(library.rows(table)), table
    assert {key for counts in counted.values() for key in counts} <= set(library.sources)


@pytest.mark.parametrize(
    ("count", "rows", "expected"),
    [(0, 40, "-"), (1, 200, "1 (< 1 %)"), (1, 3, "1 (33 %)"), (4, 4, "4 (100 %)")],
)
def test_shares(maker: ModuleType, count: int, rows: int, expected: str) -> None:
    assert maker._share(count, rows) == expected


def test_every_formula_and_source_has_its_section(library: Library) -> None:
    headed = set(re.findall(r"^## (\w+)$", page("docs/formulas.md"), re.M))
    published = {each.source_id for each in library.sources.values() if each.kind != "marker"}

    assert headed == {each.name for each in formulas()}
    assert set(re.findall(r"^### (\w+)$", page("docs/sources.md"), re.M)) == published


def commands() -> dict[str, argparse.ArgumentParser]:
    for action in parser()._actions:
        if isinstance(action, argparse._SubParsersAction):
            return dict(action.choices)
    raise AssertionError("the parser has no commands")


@pytest.mark.parametrize("name", sorted(commands()))
def test_every_command_and_option_is_documented(name: str) -> None:
    sections = re.split(r"^## ", page("docs/commands.md"), flags=re.M)
    found = [section for section in sections if section.startswith(f"{name}\n")]

    assert len(found) == 1
    for action in commands()[name]._actions:
        if action.dest == "help":
            continue
        words = [*action.option_strings, *(action.choices or ())] or [str(action.metavar)]
        for word in words:
            assert word in found[0], f"{name}: {word}"


def test_no_command_is_documented_that_is_not_there() -> None:
    assert set(re.findall(r"^## (\w+)$", page("docs/commands.md"), re.M)) == set(commands())


def test_every_exit_code_is_documented() -> None:
    found = {int(code) for code in re.findall(r"^\| (\d+) \|", page("docs/commands.md"), re.M)}

    assert found == {DONE, WRONG_INPUT, OWN_FAULT, 130}


@pytest.mark.parametrize("table", sorted(COLUMNS))
def test_tables_page_shows_the_columns(table: str) -> None:
    row = re.search(rf"^\| `{table}\.csv` \| `([^`]*)`", page("docs/tables.md"), re.M)

    assert row is not None
    assert tuple(row[1].split(",")) == COLUMNS[table]


def test_tables_page_knows_every_file() -> None:
    files = {path.name for path in (ROOT / "src/bedwright/reference/tables").glob("*.csv")}
    shown = set(re.findall(r"^\| `(\w+\.csv)` \|", page("docs/tables.md"), re.M))

    assert shown == files
    assert ",".join(SOURCE_COLUMNS) in page("docs/tables.md")


def parts(model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """A model and all models in its fields."""
    yield model
    for each in model.model_fields.values():
        yield from _models_in(each.annotation)


def _models_in(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield from parts(annotation)
    for inner in get_args(annotation):
        yield from _models_in(inner)


def test_every_section_and_field_of_the_garden_document_is_documented() -> None:
    sections = re.split(r"^## ", page("docs/garden-document.md"), flags=re.M)
    for name, each in Garden.model_fields.items():
        if name == "format":
            continue
        found = [section for section in sections if re.match(rf"\[+{name}\]+:", section)]
        assert len(found) == 1, name
        for model in _models_in(each.annotation):
            for key in model.model_fields:
                assert f"`{key}`" in found[0], f"{name}: {key}"


def test_every_analysis_is_documented() -> None:
    text = page("docs/garden-document.md")

    assert [name for name in sorted(ANALYSIS) if f"`{name}`" not in text] == []


def test_every_dependency_has_its_reason() -> None:
    project = tomllib.loads(page("pyproject.toml"))["project"]
    stated = list(project["dependencies"])
    for extra in project["optional-dependencies"].values():
        stated += extra
    names = {re.split(r"[\[<>=!~ ;]", each)[0] for each in stated}
    shown = set(re.findall(r"^\| `([\w-]+)` \|", page("docs/dependencies.md"), re.M))

    assert shown == names


def test_glossary_says_each_word_once() -> None:
    words = re.findall(r"^- \*\*([^*]+)\*\*", page("docs/glossary.md"), re.M)

    assert len(words) > 100
    assert len({word.casefold() for word in words}) == len(words)


def test_pages_link_to_files_that_are_there() -> None:
    broken = [
        f"{path.name}: {target}"
        for path in [*ROOT.glob("*.md"), *ROOT.glob("docs/*.md"), *ROOT.glob("benchmarks/*.md")]
        for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8"))
        if not (path.parent / target).exists()
    ]

    assert broken == []
