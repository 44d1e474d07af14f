"""How the house is built: small rooms, no side doors, a word for every code."""

import ast
import functools
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import bedwright
from bedwright.reference import Library

SOURCE = Path(bedwright.__file__).parent
MODULES = sorted(path for path in SOURCE.rglob("*.py"))
ENGINE = sorted(
    path
    for path in MODULES
    if path.relative_to(SOURCE).parts[0]
    in {
        "soil",
        "feeding",
        "climate",
        "crops",
        "light",
        "water",
        "trials",
        "planning",
        "units",
        "working.py",
        "guards.py",
        "season",
    }
)
MOST_LINES, MOST_NAMES = 400, 10
# Modules that are a list of fields or of elements: their names are their rows.
LISTS = {
    "web/settings.py",
    "garden/model.py",
    "garden/model_rotation.py",
    "garden/fields.py",
    "soil/forms.py",
}


def name_of(path: Path) -> str:
    return str(path.relative_to(SOURCE))


@functools.cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def functions(path: Path) -> list[ast.FunctionDef]:
    return [each for each in ast.walk(tree(path)) if isinstance(each, ast.FunctionDef)]


def declared_formula(node: ast.stmt) -> bool:
    return isinstance(node, ast.FunctionDef) and any(
        isinstance(each, ast.Call) and getattr(each.func, "id", "") == "formula"
        for each in node.decorator_list
    )


def public_names(path: Path) -> list[str]:
    """Functions, classes and constants without an underscore; declared formulas are rows."""
    found = []
    for node in tree(path).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not declared_formula(node):
            found.append(node.name)
        elif isinstance(node, ast.Assign):
            found += [name.id for name in ast.walk(node) if _is_target(name, node)]
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            found.append(node.target.id)
    return [each for each in found if not each.startswith("_")]


def _is_target(name: ast.AST, node: ast.Assign) -> bool:
    return isinstance(name, ast.Name) and any(
        name is each or name in getattr(each, "elts", []) for each in node.targets
    )


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_module_is_read_in_one_sitting(path: Path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@pytest.mark.parametrize("path", [p for p in MODULES if name_of(p) not in LISTS], ids=name_of)
def test_a_module_offers_few_names(path: Path):
    names = public_names(path)

    assert len(names) <= MOST_NAMES, names


def imported(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            found |= {each.name.split(".")[0] for each in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
    return found


@pytest.mark.parametrize("path", ENGINE, ids=name_of)
def test_the_engine_asks_neither_the_clock_nor_the_disk_nor_the_dice(path: Path):
    outside = {"os", "sys", "pathlib", "time", "random", "secrets", "socket", "subprocess", "io"}
    called = {ast.unparse(each.func) for each in ast.walk(tree(path)) if isinstance(each, ast.Call)}

    assert imported(path) & outside == set()
    assert called & {"open", "print", "input", "date.today", "datetime.now"} == set()


@pytest.mark.parametrize("path", ENGINE, ids=name_of)
def test_every_public_function_of_the_engine_says_what_it_does(path: Path):
    silent = [
        each.name
        for each in functions(path)
        if not each.name.startswith("_") and ast.get_docstring(each) is None and _at_top(path, each)
    ]

    assert silent == []


def _at_top(path: Path, function: ast.FunctionDef) -> bool:
    return any(
        isinstance(node, ast.FunctionDef) and node.name == function.name for node in tree(path).body
    )


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_no_module_names_an_address_but_that_of_its_schemas_dialect(path: Path):
    addresses = re.findall(r"https?://[^\s\"']+", path.read_text(encoding="utf-8"))

    # Names of a dialect and of a name space, and the reader's own machine: nothing to be fetched.
    named = {"https://json-schema.org/draft/2020-12/schema", "http://www.w3.org/2000/svg"}
    here = ("http://localhost", "http://{")
    assert {each for each in addresses if not each.startswith(here)} <= named


# Words ------------------------------------------------------------------------------------------


def words(name: str) -> dict[str, str]:
    """A table of words, from whichever modules of reports hold it."""
    found: dict[str, str] = {}
    for path in sorted((SOURCE / "reports").glob("words*.py")):
        module = import_module(f"bedwright.reports.{path.stem}")
        for each, table in vars(module).items():
            if each == name or (name == "FINDINGS" and each.endswith("_FINDINGS")):
                found |= table
    return found


def finding_calls() -> Iterator[tuple[str, ast.Call]]:
    for path in MODULES:
        for node in ast.walk(tree(path)):
            named = isinstance(node, ast.Call) and getattr(node.func, "id", "") == "finding"
            if named and node.args:
                yield name_of(path), node


def _texts(node: ast.expr) -> set[str]:
    """The texts that an expression may be; an f-string as a pattern."""
    if isinstance(node, ast.Constant):
        return {re.escape(str(node.value))}
    if isinstance(node, ast.IfExp):
        return _texts(node.body) | _texts(node.orelse)
    if isinstance(node, ast.JoinedStr):
        parts = [
            re.escape(str(each.value)) if isinstance(each, ast.Constant) else ".+"
            for each in node.values
        ]
        return {"".join(parts)}
    return set()


def _codes_assigned(path: Path) -> set[str]:
    """Texts given to a name or field called ``code``, for findings made from it."""
    found: set[str] = set()
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Assign) and any(
            isinstance(each, ast.Name) and each.id == "code" for each in node.targets
        ):
            found |= _texts(node.value)
        if isinstance(node, ast.keyword) and node.arg == "code":
            found |= _texts(node.value)
    return found


def test_every_finding_that_the_engine_can_make_has_words():
    missing = []
    for where, call in finding_calls():
        for pattern in _texts(call.args[0]):
            if not any(re.fullmatch(pattern, code) for code in words("FINDINGS")):
                missing.append(f"{where}: {pattern}")

    assert missing == []


def leaching_classes(library: Library) -> set[str]:
    """The classes of the table that become findings under their own name."""
    return {
        row["class"]
        for row in library.rows("salinity_classes")
        if row["property"] == "ec_e_preplant_leaching"
    }


def test_every_depth_of_leaching_in_the_table_has_words(library: Library):
    classes = leaching_classes(library)

    assert classes
    assert classes <= set(words("FINDINGS"))


def test_no_words_wait_for_a_finding_that_nothing_makes(library: Library):
    patterns = {text for _, call in finding_calls() for text in _texts(call.args[0])}
    patterns |= leaching_classes(library)
    for path in MODULES:
        patterns |= _codes_assigned(path)

    unused = [
        code
        for code in words("FINDINGS")
        if not any(re.fullmatch(pattern, code) for pattern in patterns)
    ]

    assert unused == []


def test_a_findings_words_ask_only_for_values_that_it_has():
    asked_in_vain = []
    for where, call in finding_calls():
        given = {each.arg for each in call.keywords}
        if None in given:  # values passed on as a whole are not seen here
            continue
        for code in _texts(call.args[0]):
            text = words("FINDINGS").get(code.replace("\\", ""), "")
            for field in re.findall(r"{(\w+)}", text):
                if field not in given:
                    asked_in_vain.append(f"{where}: {code} has no {field}")

    assert asked_in_vain == []


def strike_codes() -> set[str]:
    """The patterns of what the functions of strikes.py return as the code of a reason."""
    found: set[str] = set()
    for node in ast.walk(tree(SOURCE / "planning" / "strikes.py")):
        if isinstance(node, ast.Return) and node.value is not None:
            found |= _texts(node.value)
    return {each for each in found if each != "None"}


def test_every_reason_to_leave_a_material_out_has_words_and_the_other_way_round():
    table = words("STRIKES")

    without = [code for code in strike_codes() if not any(re.fullmatch(code, w) for w in table)]
    unused = [w for w in table if not any(re.fullmatch(code, w) for code in strike_codes())]

    assert (without, unused) == ([], [])


@pytest.mark.parametrize(
    ("table", "column", "spoken"),
    [
        ("material_cautions", "caution", "CAUTIONS"),
        ("label_rates", "assumes", "LABEL_ASSUMES"),
    ],
)
def test_every_code_in_a_table_has_words_and_the_other_way_round(
    table: str, column: str, spoken: str, library: Library
):
    codes = {row[column] for row in library.rows(table)}

    assert codes == set(words(spoken))


def test_every_screening_action_in_the_table_has_words(library: Library):
    actions = {f"screening_{row['action']}" for row in library.rows("screening_levels")}

    assert actions == {code for code in words("FINDINGS") if code.startswith("screening_")}


def test_every_demand_and_nutrient_has_words():
    keys = set()
    for path in (SOURCE / "planning").glob("*.py"):
        for node in ast.walk(tree(path)):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Demand":
                keys |= _texts(node.args[0])

    assert keys
    assert [key for key in keys if not any(re.fullmatch(key, w) for w in words("NUTRIENTS"))] == []


def test_words_are_sentences_without_a_loose_brace_or_a_missing_stop():
    for code, text in words("FINDINGS").items():
        assert text.count("{") == text.count("}"), code
        assert re.search(r"[.!?]\)?$", text), code
        assert "  " not in text, code


def test_the_rooms_of_the_science_have_formulas_with_examples():
    from bedwright.reckon import formulas

    bare = [each.name for each in formulas() if not each.example]

    assert bare == []
