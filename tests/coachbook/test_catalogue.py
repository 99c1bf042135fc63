"""The catalogue of every other language is whole, current, and fills the same slots."""

from __future__ import annotations

import ast
import io
import re
from gettext import GNUTranslations
from pathlib import Path

import django
import pytest
from django.utils import translation

from coachbook import catalogue
from coachbook.catalogue_extract import Places, in_python, in_template, marked
from coachbook.catalogue_po import CatalogueError, Entry, Head, Key, compile_mo, read_po, write_po
from shared.core.language import NN_, language

ROOT = catalogue.ROOT
FILES = catalogue.po_files()
HEAD = (
    '# Note\nmsgid ""\nmsgstr ""\n"Language: es\\n"\n'
    '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n'
)


@pytest.fixture(params=FILES, ids=lambda path: path.parts[-3])
def po(request: pytest.FixtureRequest) -> Path:
    path = request.param
    assert isinstance(path, Path)
    return path


def test_spanish_is_there() -> None:
    assert [path.parts[-3] for path in FILES] == ["es"]


def test_every_sentence_that_must_be_there_is_there(po: Path) -> None:
    head, entries = read_po(po.read_text("utf-8"))
    assert list(catalogue.faults(entries, marked(ROOT), head.forms)) == []


def test_the_binary_is_current(po: Path) -> None:
    assert po.with_suffix(".mo").read_bytes() == compile_mo(*read_po(po.read_text("utf-8")))


def test_the_file_is_written_by_the_command(po: Path) -> None:
    text = po.read_text("utf-8")
    assert write_po(*read_po(text)) == text


def test_update_adds_what_is_needed_and_drops_what_is_dead() -> None:
    old = (Entry("Gone.", texts=("Fuera.",)), Entry("Save", texts=("Guardar",)))
    found: dict[Key, Places] = {
        ("Save", None): ("templates/plays/editor.html",),
        ("Wait.", None): ("plays/core/words/waits.py",),
        ("Delete", None): ("templates/plays/editor.html",),
    }
    new = catalogue.updated(old, found)
    assert [(entry.one, entry.texts) for entry in new] == [("Wait.", ()), ("Save", ("Guardar",))]


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
    mine = compile_mo(*read_po((locale / "django.po").read_text("utf-8")))
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
    _, entries = read_po(FILES[0].read_text("utf-8"))
    assert [text for entry in entries for text in entry.texts if gendered.search(text)] == []


def test_spanish_opens_every_question_and_quotes_as_spanish_does() -> None:
    _, entries = read_po(FILES[0].read_text("utf-8"))
    for text in (text for entry in entries for text in entry.texts):
        assert text.count("¿") == text.count("?"), text
        assert text.count("¡") == text.count("!"), text
        assert not re.search("[“”]", text), text


def test_plurals_by_the_languages_own_rule() -> None:
    pair = NN_("a step above {spot}", "{n} steps above {spot}")
    spanish = language("es")
    assert spanish.say_n(*pair, 1, spot="el codo") == "un paso por encima del codo"
    assert spanish.say_n(*pair, 3, spot="el codo") == "3 pasos por encima del codo"


def test_write_is_the_inverse_of_read() -> None:
    head = Head("Language: es\n", ("Note",))
    entries = (
        Entry("a", texts=("b",), notes=("why",), places=("x.py",)),
        Entry('quo"te\\ and\nlines\n', texts=("ñ\n\tx",)),
        Entry("{n} one", "{n} many", ("uno", "dos"), fuzzy=True),
        Entry("none yet", "none yet, many"),
    )
    again = read_po(write_po(head, entries))
    assert again == (head, (*entries[:3], Entry("none yet", "none yet, many", ("", ""))))


@pytest.mark.parametrize(
    "text",
    [
        "",
        'msgid "a"\nmsgstr "b"\n',
        HEAD + '\nmsgid "a"\n',
        HEAD + '\nmsgid "a"\nmsgstr "b\n',
        HEAD + '\nmsgctxt "c"\nmsgid "a"\nmsgstr "b"\n',
        HEAD + '\nmsgid "a"\nmsgstr "b"\n\nmsgid "a"\nmsgstr "c"\n',
    ],
)
def test_what_cannot_be_read(text: str) -> None:
    with pytest.raises(CatalogueError):
        read_po(text)


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
    head, entries = read_po(f"{HEAD}\n{entry}\n")
    found: dict[Key, Places] = {("Wait {time}.", None): ("plays/core/words/waits.py",)}
    assert any(line.startswith(fault) for line in catalogue.faults(entries, found, head.forms))


def test_staff_pages_may_be_behind() -> None:
    page = ("templates/plays/editor.html",)
    places: dict[Key, Places] = {("Save", None): page}
    assert list(catalogue.faults((), places, 2)) == []
    assert list(catalogue.faults((Entry("Gone.", None, ("Fuera.",), places=page),), {}, 2)) == []
    core = Entry("Gone.", None, ("Fuera.",), places=("plays/core/words/part.py",))
    assert list(catalogue.faults((core,), {}, 2)) == ["no longer used: 'Gone.'"]


def test_fuzzy_and_half_translated_sentences_are_not_compiled() -> None:
    head, entries = read_po(
        f'{HEAD}\n#, fuzzy\nmsgid "a"\nmsgstr "b"\n\nmsgid "c"\nmsgid_plural "d"\nmsgstr[0] "e"\n'
        'msgstr[1] ""\n'
    )
    spoken = GNUTranslations(io.BytesIO(compile_mo(head, entries)))
    assert spoken.gettext("a") == "a"
    assert spoken.ngettext("c", "d", 2) == "d"


def test_what_counts_as_marked() -> None:
    source = (
        'N_("a")\nNN_("b", "c")\nx.say("d", e=1)\nx.say_n("f", "g", 2)\ngettext_lazy("h")\nN_(i)\n'
    )
    assert set(in_python(source)) == {
        ("a", None), ("b", "c"), ("d", None), ("f", "g"), ("h", None),
    }  # fmt: skip
    page = (
        '{% load i18n %}<p>{% translate "Your part" %}</p>'
        "{% blocktranslate trimmed %}\n See {{ name }}\n"
        "{% endblocktranslate %}{% blocktranslate count n=steps %}One step{% plural %}{{ n }} steps"
        '{% endblocktranslate %}{% severity "good" _("steps in") %}{{ name|default:_("nobody") }}'
    )
    assert set(in_template(page)) == {
        ("Your part", None), ("See %(name)s", None), ("One step", "%(n)s steps"),
        ("steps in", None), ("nobody", None),
    }  # fmt: skip


@pytest.mark.parametrize(("arguments", "code"), [([], 2), (["dance"], 2), (["check"], 0)])
def test_the_command(arguments: list[str], code: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert catalogue.main(arguments) == code
