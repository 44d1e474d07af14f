"""One catalogue for reports, command line and pages; the bed sheet is whole in Spanish."""

import importlib.util
import io
import re
from datetime import date
from pathlib import Path
from string import Formatter
from threading import Thread
from types import ModuleType

import pypdf
import pytest
from django.utils.translation import override

from bedwright import language
from bedwright.cli.main import DONE, run
from bedwright.language import LANGUAGES, Words, named, names_said, said, spoken, using
from bedwright.reference import Library
from bedwright.reports import words, words_charts, words_dates, words_drawings, words_why
from bedwright.reports.dates_counts import one_day
from bedwright.reports.days_said import day_words, day_year_words, days_said, span_words
from bedwright.reports.words_ledger import TERMS
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem, show
from spoken_sheets import unseen_words

ROOT = Path(__file__).resolve().parent.parent
# What the bed sheet, the names of tasks and the cautions are made of.
WHOLE = {
    "sheet": SHEET_WORDS, "why": words_why.WHY, "amounts": words_why.AMOUNTS,
    "drawings": words_drawings.DRAWING_WORDS, "dates": words_dates.DATES,
    "starts": words_dates.STARTS, "covers": words_dates.COVERS, "work": words_dates.WORK,
    "turns": words_dates.TURN_WORDS, "months": words_charts.CHART_WORDS,
    "cautions": words.CAUTIONS, "findings": words.FINDINGS, "nutrients": words.NUTRIENTS,
    "analytes": words.ANALYTES, "supply": words.SUPPLY, "strikes": words.STRIKES, "terms": TERMS,
}  # fmt: skip
# Fields that a translation may use beside those of its text: the code offers them.
OFFERED = {"{iso}": {"day", "month", "year"}}
LEAST_SHARE = 0.95  # of all texts


@pytest.fixture(scope="module")
def maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location(
        "make_catalogues", ROOT / "scripts" / "make_catalogues.py"
    )
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def metric_plan(ennery_plan: SeasonPlan) -> SeasonPlan:
    return ennery_plan


def fields(text: str) -> set[str]:
    """The places of a text, in braces or as Django writes them."""
    braces = {name for _, name, _, _ in Formatter().parse(text) if name is not None}
    return braces | set(re.findall(r"%%?\((\w+)\)[sd]|%%n", text))


def texts(table: Words) -> list[tuple[str, str]]:
    return [
        (key, text)
        for key, value in dict.items(table)
        for text in ((value,) if isinstance(value, str) else value)
        if re.search(r"[A-Za-z]", text)
    ]


def translated(maker: ModuleType) -> dict[tuple[str, str | None], str]:
    """The Spanish of each text and context; of a text with a plural, that of the one."""
    return {
        (each.id, each.context)
        if isinstance(each.id, str)
        else (each.id[0], each.context): each.string
        if isinstance(each.string, str)
        else each.string[0]
        for each in maker.read("es")
        if each.id
    }


# The language of the moment


def test_english_is_what_is_said_until_asked_otherwise():
    assert spoken() == "en"
    assert said("Caution:") == "Caution:"


def test_a_language_holds_within_its_block_even_when_the_block_fails():
    with pytest.raises(ValueError, match="stop"), using("es"):
        assert said("Caution:") == "Precaución:"
        with using("en"):
            assert said("Caution:") == "Caution:"
        assert spoken() == "es"
        raise ValueError("stop")

    assert spoken() == "en"


def test_a_language_that_is_not_there_is_refused():
    with pytest.raises(LookupError, match="no language 'fr'; there are: en, es"), using("fr"):
        pass


def test_another_thread_keeps_its_own_language():
    heard = []
    with using("es"):
        other = Thread(target=lambda: heard.append(said("Caution:")))
        other.start()
        other.join()

    assert heard == ["Caution:"]


def test_a_text_without_translation_stays_english():
    with using("es"):
        assert said("no such sentence in any catalogue") == "no such sentence in any catalogue"
        assert said("") == ""  # an empty text is a catalogue's own heading


def test_one_english_word_is_two_elsewhere():
    with using("es"):
        assert SHEET_WORDS["actual"] == "esparcido"
        assert SHEET_WORDS["spread_by"] == "esparcir"


# Tables of words


def test_a_table_is_read_in_the_language_of_the_moment():
    table = Words({"caution": "Caution:", "own": "kept"})
    with using("es"):
        assert table["caution"] == table.get("caution") == "Precaución:"
        assert table.get("other") is None and table.get("other", "-") == "-"
        assert dict(table.items()) == {"caution": "Precaución:", "own": "kept"}
        assert list(table.values()) == ["Precaución:", "kept"]

    assert dict(table.items()) == {"caution": "Caution:", "own": "kept"}
    with pytest.raises(KeyError):
        table["nothing"]


def test_tables_put_together_while_spanish_is_spoken_are_english_still():
    first = Words({"caution": "Caution:"})
    with using("es"):
        both = Words(first, {"why": "Why"})

    assert dict(both.items()) == {"caution": "Caution:", "why": "Why"}


def test_pairs_of_words_are_read_so_too():
    with using("es"):
        assert words_dates.STARTS["set_out"] == ("Trasplantar", "trasplantar")


# Names


def test_names_keep_their_case_and_ones_own_names_stay():
    with using("es"):
        assert (named("Feather meal"), named("feather meal")) == (
            "Harina de plumas",
            "harina de plumas",
        )
        assert named("feather meal, the open bag") == "feather meal, the open bag"
        assert named("") == ""
    assert named("Feather meal") == "Feather meal"


def test_a_list_of_names_is_taken_apart_where_names_end():
    with using("es"):
        listed = names_said("Gypsum, Bone meal, raw, grandmother's mix, Urea")

    assert listed == "Yeso, Harina de huesos, cruda, grandmother's mix, Urea"


# Days, counts, units


def test_days_are_said_as_in_spanish():
    first, last = date(2027, 5, 4), date(2027, 5, 31)
    with using("es"):
        assert day_words(first) == "4 de mayo"
        assert day_year_words(first) == "4 de mayo de 2027"
        assert span_words(first, last, year=True) == "del 4 al 31 de mayo de 2027"
        assert span_words(first, date(2027, 6, 6)) == "del 4 de mayo al 6 de junio"
        assert span_words(date(2026, 12, 30), date(2027, 1, 2), year=True) == (
            "del 30 de diciembre de 2026 al 2 de enero de 2027"
        )
        assert span_words(first, first, year=True) == "el 4 de mayo de 2027"
        assert days_said("por 2027-05-04, no 2027-15-04") == "por 4 de mayo de 2027, no 2027-15-04"
    assert days_said("by 2027-05-04") == "by 2027-05-04"


@pytest.mark.parametrize(
    ("code", "days", "expected"),
    [("en", 1, "1 day more"), ("en", 3, "3 days more"), ("es", 1, "1 día más"),
     ("es", -1, "-1 día más"), ("es", 0, "0 días más")],
)  # fmt: skip
def test_one_day_is_not_days(code: str, days: int, expected: str):
    template = {"en": "{days} days more", "es": "{days} días más"}[code]
    with using(code):
        assert one_day(template, days).format(days=days) == expected


def test_units_that_are_words_are_translated_and_symbols_are_not():
    with using("es"):
        assert show(0.0254 * 6, "depth", UnitSystem.US) == "6 pulg"
        assert show(0.09290304 * 48, "area", UnitSystem.US) == "48 pies2"
        assert show(1.5, "mass", UnitSystem.METRIC) == "1.5 kg"
    assert show(0.0254 * 6, "depth", UnitSystem.US) == "6 in"


# The catalogue


@pytest.mark.parametrize("code", [each for each in LANGUAGES if each != "en"])
def test_the_catalogue_holds_every_text_and_is_compiled(maker: ModuleType, code: str):
    stale = [
        name
        for name, content in maker.files(code).items()
        if not (maker.place(code) / name).exists()
        or (maker.place(code) / name).read_bytes() != content
    ]

    assert stale == [], "run .venv/bin/python scripts/make_catalogues.py"


@pytest.mark.parametrize("code", [each for each in LANGUAGES if each != "en"])
def test_what_is_translated_asks_for_the_same_values(maker: ModuleType, code: str):
    wrong = []
    for each in maker.read(code):
        if not each.id:
            continue
        plain = isinstance(each.id, str)
        asked = fields(each.id if plain else each.id[1])
        for text in (each.string,) if plain else each.string[1:]:
            extra = OFFERED.get(each.id if plain else each.id[1])
            if text and not (fields(text) == asked or (extra and fields(text) <= extra)):
                wrong.append((each.id, text))
            if text and text[:1].isspace() != (each.id if plain else each.id[1])[:1].isspace():
                wrong.append((each.id, text))

    assert wrong == []


@pytest.mark.parametrize("name", sorted(WHOLE))
def test_the_bed_sheet_and_its_cautions_are_whole_in_spanish(maker: ModuleType, name: str):
    told = translated(maker)

    lacking = [
        text
        for key, text in texts(WHOLE[name])
        if not (told.get((text, key)) or told.get((text, None)))
    ]

    assert lacking == [], "translate these in locale/es/LC_MESSAGES/django.po: docs/translation.md"


def test_tasks_crops_materials_soils_and_methods_have_spanish_names(
    maker: ModuleType, library: Library
):
    told = translated(maker)
    lacking = [name for _, name in maker.names(library) if not told[name, language.NAMES]]
    from bedwright.web.views.today import DONE_ON_A_DAY

    with override("en-us"):
        english = [str(each) for each in DONE_ON_A_DAY.values()]
    with using("es"):
        tasks = [each for each in english if said(each) == each]

    assert (lacking, tasks) == ([], [])


def test_how_much_is_translated_is_at_least_what_the_page_says(maker: ModuleType):
    done, whole = maker.share(maker.read("es"))
    print(f"Spanish: {done} of {whole} texts")
    stated = re.search(r"at least (\d+) %", (ROOT / "docs/translation.md").read_text("utf-8"))

    assert stated is not None and int(stated[1]) / 100 == LEAST_SHARE
    assert done / whole >= LEAST_SHARE


# The bed sheet itself


def test_no_word_of_a_sheet_escapes_the_catalogue(
    metric_plan: SeasonPlan, monkeypatch: pytest.MonkeyPatch
):
    assert unseen_words(metric_plan, monkeypatch) == set()


def test_a_word_that_escapes_would_be_seen(
    metric_plan: SeasonPlan, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setitem(SHEET_WORDS, "days", "Unheard-of heading")
    monkeypatch.setitem(SHEET_WORDS, "clear_by", "quux the bed")

    assert "quux" in unseen_words(metric_plan, monkeypatch)


def test_the_command_prints_a_spanish_sheet(tmp_path: Path, demo_folder: Path):
    out = tmp_path / "out"
    code = run(
        ["sheets", str(demo_folder / "ennery_flat.toml"), "--as-of", "2026-11-25", "--bed", "2",
         "--out", str(out), "--paper", "a4", "--language", "es"]
    )  # fmt: skip

    assert code == DONE
    printed = pypdf.PdfReader(io.BytesIO((out / "sheet-2.pdf").read_bytes()))
    text = " ".join(" ".join(page.extract_text() for page in printed.pages).split())
    assert printed.trailer["/Root"]["/Lang"] == "es"
    assert {"Cama 2", "Días", "Precaución:"} <= {
        each for each in ("Cama 2", "Días", "Precaución:") if each in text
    }
    assert "Before planting" not in text
    assert spoken() == "en"


def test_the_plan_in_spanish_says_that_some_of_it_is_english(
    demo_folder: Path, capsys: pytest.CaptureFixture[str]
):
    asked = ["plan", str(demo_folder / "ennery_flat.toml"), "--as-of", "2026-11-25", "--bed", "2"]

    assert run([*asked, "--language", "es"]) == DONE
    spanish = capsys.readouterr().out
    assert run([*asked, "--format", "json", "--language", "es"]) == DONE
    spanish_json = capsys.readouterr().out
    assert run([*asked, "--format", "json"]) == DONE

    assert spanish.startswith("Los títulos y algunas frases están todavía en inglés.\n")
    assert "Nitrógeno: el cultivo necesita" in spanish
    assert capsys.readouterr().out == spanish_json
