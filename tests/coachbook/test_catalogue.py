"""The catalogue of every other language is whole, current, and fills the same slots."""

from __future__ import annotations

import ast
import io
import re
from gettext import GNUTranslations
from pathlib import Path

import django
import pytest
from babel.messages.pofile import PoFileError
from django.utils import translation

from coachbook import catalogue
from coachbook.catalogue import (
    Key,
    Places,
    compiled,
    in_python,
    in_template,
    marked,
    read,
    texts,
    updated,
    written,
)
from shared.core.language import NN_
from tests.languages import language

ROOT = catalogue.ROOT
FILES = catalogue.po_files()
HEAD = (
    '# Note\nmsgid ""\nmsgstr ""\n"Language: es\\n"\n'
    '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n'
)


def spanish() -> list[str]:
    """Every text of the Spanish catalogue."""
    return [text for each in read(FILES[0].read_text("utf-8")).sentences() for text in texts(each)]


@pytest.fixture(params=FILES, ids=lambda path: path.parts[-3])
def po(request: pytest.FixtureRequest) -> Path:
    path = request.param
    assert isinstance(path, Path)
    return path


def test_spanish_is_there() -> None:
    assert [path.parts[-3] for path in FILES] == ["es"]


def test_every_sentence_that_must_be_there_is_there(po: Path) -> None:
    assert list(catalogue.faults(read(po.read_text("utf-8")), marked(ROOT))) == []


def test_no_sentence_of_any_page_is_missing(po: Path) -> None:
    found = read(po.read_text("utf-8"))
    whole = {catalogue._key(each) for each in found.sentences() if found.is_whole(each)}
    assert [key for key in marked(ROOT) if key not in whole] == []


def test_the_binary_is_current(po: Path) -> None:
    assert po.with_suffix(".mo").read_bytes() == compiled(read(po.read_text("utf-8")))


def test_the_file_is_written_by_the_command(po: Path) -> None:
    text = po.read_text("utf-8")
    assert written(read(text)) == text


def test_update_adds_what_is_needed_and_drops_what_is_dead() -> None:
    old = read(f'{HEAD}\nmsgid "Gone."\nmsgstr "Fuera."\n\nmsgid "Save"\nmsgstr "Guardar"\n')
    found: dict[Key, Places] = {
        "Save": ("templates/plays/editor.html",),
        "Wait.": ("plays/core/words/waits.py",),
        "Delete": ("templates/plays/editor.html",),
    }
    assert written(updated(old, found)) == (
        f'{HEAD}\n#: plays/core/words/waits.py\nmsgid "Wait."\nmsgstr ""\n'
        '\n#: templates/plays/editor.html\nmsgid "Delete"\nmsgstr ""\n'
        '\n#: templates/plays/editor.html\nmsgid "Save"\nmsgstr "Guardar"\n'
    )


def test_every_marker_holds_plain_texts() -> None:
    """A sentence put together at run time could never be found by the extraction."""
    for path in ROOT.glob("*/core/**/*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            name = getattr(getattr(node, "func", None), "id", "")
            if isinstance(node, ast.Call) and name in {"N_", "NN_"}:
                assert all(isinstance(argument, ast.Constant) for argument in node.args), path


@pytest.mark.parametrize("app", ["sites", "redirects", "flatpages"])
@pytest.mark.parametrize("code", ["es", "pl", "de"])
def test_compiles_to_what_gnu_msgfmt_made(app: str, code: str) -> None:
    """Django's own catalogues: their .mo were compiled by GNU msgfmt."""
    locale = Path(django.__file__).parent / "contrib" / app / "locale" / code / "LC_MESSAGES"
    mine = compiled(read((locale / "django.po").read_text("utf-8")))
    with (locale / "django.mo").open("rb") as file:
        theirs = vars(GNUTranslations(file))["_catalog"]
    found = vars(GNUTranslations(io.BytesIO(mine)))["_catalog"]
    assert {key: found[key] for key in found if key} == {key: theirs[key] for key in theirs if key}


def test_django_reads_the_same_catalogue() -> None:
    with translation.override("es"):
        assert translation.gettext("Wait for the signal.") == "Espera la señal."


def test_spanish_calls_nobody_by_gender() -> None:
    gendered = re.compile(
        r"\b(jugador|entrenador|defensor|compañer|árbitr|bienvenido|usuari[oa])\w*", re.IGNORECASE
    )
    assert [text for text in spanish() if gendered.search(text)] == []


def test_spanish_opens_every_question_and_quotes_as_spanish_does() -> None:
    for text in spanish():
        assert text.count("¿") == text.count("?"), text
        assert text.count("¡") == text.count("!"), text
        assert not re.search("[“”]", text), text


def test_plurals_by_the_languages_own_rule() -> None:
    pair = NN_("a step above {spot}", "{n} steps above {spot}")
    spanish = language("es")
    assert spanish.say_n(*pair, 1, spot="el codo") == "un paso por encima del codo"
    assert spanish.say_n(*pair, 3, spot="el codo") == "3 pasos por encima del codo"


def test_write_is_the_inverse_of_read() -> None:
    text = (
        f'{HEAD}\n# why\n#: x.py\n#: y.py\nmsgid "a"\nmsgstr "b"\n'
        '\nmsgid ""\n"quo\\"te\\\\ and\\n"\n"lines\\n"\nmsgstr ""\n"ñ\\n"\n"\\tx"\n'
        '\n#, fuzzy\nmsgid "{n} one"\nmsgid_plural "{n} many"\nmsgstr[0] "uno"\nmsgstr[1] "dos"\n'
        '\nmsgid "none %(yet)s"\nmsgstr ""\n'
    )
    assert written(read(text)) == text


@pytest.mark.parametrize(
    "text",
    [
        HEAD + '\nmsgid "a"\n',
        HEAD + '\nmsgid "a"\nmsgid_plural "b"\nmsgstr[0] "c"\nmsgstr[1] "d"\nmsgstr[2] "e"\n',
        HEAD + '\nhello "a"\nmsgstr "b"\n',
    ],
)
def test_what_cannot_be_read(text: str) -> None:
    with pytest.raises(PoFileError):
        read(text)


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        ('msgid "Wait {time}."\nmsgstr ""', "not translated"),
        ('#, fuzzy\nmsgid "Wait {time}."\nmsgstr "Espera {time}."', "fuzzy"),
        ('msgid "Wait {time}."\nmsgstr "Espera {tiempo}."', "other slots"),
        ('msgid "Gone."\nmsgstr "Fuera."', "no longer used"),
    ],
)
def test_each_fault_is_found(entry: str, fault: str) -> None:
    found: dict[Key, Places] = {"Wait {time}.": ("plays/core/words/waits.py",)}
    said = catalogue.faults(read(f"{HEAD}\n{entry}\n"), found)
    assert any(line.startswith(fault) for line in said)


def test_staff_pages_may_be_behind() -> None:
    places: dict[Key, Places] = {"Save": ("templates/plays/editor.html",)}
    assert list(catalogue.faults(read(HEAD), places)) == []
    gone = f'{HEAD}\n#: {{}}\nmsgid "Gone."\nmsgstr "Fuera."\n'
    assert list(catalogue.faults(read(gone.format("templates/plays/editor.html")), {})) == []
    core = read(gone.format("plays/core/words/part.py"))
    assert list(catalogue.faults(core, {})) == ["no longer used: 'Gone.'"]


def test_fuzzy_and_half_translated_sentences_are_not_compiled() -> None:
    half = read(
        f'{HEAD}\n#, fuzzy\nmsgid "a"\nmsgstr "b"\n\nmsgid "c"\nmsgid_plural "d"\nmsgstr[0] "e"\n'
        'msgstr[1] ""\n'
    )
    spoken = GNUTranslations(io.BytesIO(compiled(half)))
    assert spoken.gettext("a") == "a"
    assert spoken.ngettext("c", "d", 2) == "d"


def test_what_counts_as_marked() -> None:
    source = (
        'N_("a")\nNN_("b", "c")\nx.say("d", e=1)\nx.say_n("f", "g", 2)\ngettext_lazy("h")\nN_(i)\n'
        "f\"{_('in an f-string')}\"\n"
    )
    assert set(in_python(source)) == {
        "a", ("b", "c"), "d", ("f", "g"), "h", "in an f-string",
    }  # fmt: skip
    page = (
        '{% load i18n %}<p>{% translate "Your part" %}</p>'
        "{% blocktranslate trimmed %}\n See {{ name }}\n"
        "{% endblocktranslate %}{% blocktranslate count n=steps %}One step{% plural %}{{ n }} steps"
        '{% endblocktranslate %}{% severity "good" _("steps in") %}{{ name|default:_("nobody") }}'
    )
    assert set(in_template(page)) == {
        "Your part", "See %(name)s", ("One step", "%(n)s steps"), "steps in", "nobody",
    }  # fmt: skip


@pytest.mark.parametrize(("arguments", "code"), [([], 2), (["dance"], 2), (["check"], 0)])
def test_the_command(arguments: list[str], code: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert catalogue.main(arguments) == code
