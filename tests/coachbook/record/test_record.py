"""The record of changes: what stands in it, how it reads, who reads it, and that it only grows."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from django.db import DatabaseError, connection, transaction
from django.db.models import ProtectedError
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from coachbook.accounts import staff as changes
from coachbook.record.page import EACH, MATTERS
from coachbook.record.wording import told
from practice.dates.feeds import give, withdraw
from roster.models import Staff
from roster.squad.records import follow_name
from shared.models import AppendOnlyError, Change, User
from shared.record import change, forget_team, note_change, note_changes, reword
from shared.speech import language_of
from shared.verbs import VERBS, tell
from tests.cast import Cast

ROOT = Path(__file__).resolve().parents[3]
APPS = ("shared", "plays", "roster", "practice", "coachbook")


def read(cast: Cast, person: User, address: str) -> str:
    response = cast.client(person).get(address)
    assert response.status_code == 200
    return response.content.decode()


def team_record(cast: Cast, query: str = "") -> str:
    return reverse("team-record", args=[cast.team.pk]) + query


def sentences(cast: Cast, verb: str) -> list[str]:
    rows = Change.objects.filter(verb=verb, team=cast.team.pk).select_related("user")
    return [told(row, language_of("en")) for row in rows]


# What stands in it.


def test_the_head_coach_reads_who_changed_what_newest_first(cast: Cast) -> None:
    head = cast.client(cast.head)
    head.post(reverse("drop-entry", args=[cast.entry.pk]))
    head.post(reverse("set-availability", args=[cast.players[0].pk]), {"availability": "out"})
    text = read(cast, cast.head, team_record(cast))
    later = text.index("Hedda set the availability of Ida (4) from Available to Out")
    assert later < text.index("Hedda took Gangway 5 out of the package.")


def test_the_whole_club_is_read_by_who_runs_it(cast: Cast) -> None:
    changes.give_place(cast.runner, cast.assistant, cast.other_team, "assistant")
    text = read(cast, cast.runner, reverse("club-record"))
    assert "Rosa gave Arne a place on the staff of the team: Assistant." in text
    assert f'<span class="tag">{cast.other_team}</span>' in text
    assert "Arne a place" not in read(cast, cast.head, team_record(cast))


def test_a_published_revision_is_told_by_its_play(cast: Cast) -> None:
    text = read(cast, cast.runner, reverse("club-record") + "?what=plays")
    assert "Kim published Gangway." in text


def test_it_reads_in_spanish(cast: Cast) -> None:
    row = note_change(cast.head, "took the roster", cast.team, team=cast.team.pk)
    assert (
        told(row, language_of("es")) == f"Hedda guardó la plantilla de {cast.team} en un archivo."
    )


def test_a_cast_is_told_place_by_place(cast: Cast) -> None:
    ida, runa = cast.players[0], cast.players[5]
    cells = [{"role": "1", "depth": 1, "before": ida.pk, "after": runa.pk}]
    cells.append({"role": "5", "depth": 2, "before": runa.pk, "after": None})
    note_change(cast.head, "cast", cast.entry, team=cast.team.pk, after=cells)
    text = read(cast, cast.head, team_record(cast))
    assert f"First in role 1: {runa}; before, {ida}" in text
    assert f"Second in role 5: nobody; before, {runa}" in text


def test_rights_are_named(cast: Cast) -> None:
    changes.set_rights(cast.runner, cast.assistant, runs_club=False, keeps_library=True)
    changes.set_rights(cast.runner, cast.assistant, runs_club=False, keeps_library=False)
    text = read(cast, cast.runner, reverse("club-record"))
    assert "Rosa changed the rights of Arne in the club: keeps the play library." in text
    assert "Rosa changed the rights of Arne in the club: no rights in the whole club." in text


def test_links_of_the_team_are_in_it(cast: Cast) -> None:
    head = cast.client(cast.head)
    head.post(reverse("make-links", args=[cast.team.pk]))
    head.post(reverse("make-links", args=[cast.team.pk]))  # everybody has one: nothing to tell
    (line,) = sentences(cast, "made personal links")
    assert line.startswith(f"Hedda made personal links for {cast.players[0]}, ")
    give(cast.team, None, cast.head)
    give(cast.team, None, cast.head)
    withdraw(cast.team, None, cast.head)
    withdraw(cast.team, None, cast.head)
    assert len(sentences(cast, "made a calendar address")) == 1
    assert len(sentences(cast, "withdrew a calendar address")) == 1


def test_exports_are_in_it(cast: Cast) -> None:
    head = cast.client(cast.head)
    head.get(reverse("export-roster", args=[cast.team.pk]))
    head.get(reverse("player-data-file", args=[cast.players[1].pk, "csv"]))
    text = read(cast, cast.head, team_record(cast, "?what=data"))
    assert f"Hedda saved the roster of {cast.team} as a file." in text
    assert f"Hedda saved all that is held about {cast.players[1]} as a file." in text


def test_a_removed_persons_places_are_told_to_the_team(cast: Cast) -> None:
    changes.remove(cast.runner, cast.assistant)
    assert sentences(cast, "took from team") == ["Rosa took Arne off the staff of the team."]
    assert not Staff.objects.filter(user=cast.assistant).exists()


def test_reps_taken_back_tell_how_many_were_somebody_elses(cast: Cast) -> None:
    after = {"reps": ["a", "b", "c"], "logged_by_others": 2}
    note_change(cast.assistant, "took back reps", cast.team, team=cast.team.pk, after=after)
    (line,) = sentences(cast, "took back reps")
    assert line == "Arne took reps back: 3, 2 of them logged by somebody else."
    own = {"reps": ["d"], "logged_by_others": 0}
    note_change(cast.assistant, "took back reps", cast.team, team=cast.team.pk, after=own)
    assert "Arne took reps back: 1." in sentences(cast, "took back reps")


def test_what_a_command_did_was_done_by_the_site(cast: Cast) -> None:
    note_change(None, "erased a player", "#4817", team=cast.team.pk)
    assert sentences(cast, "erased a player") == [
        "The site erased a person, who is #4817 from now on."
    ]


def test_a_long_list_of_names_is_cut_and_counted(cast: Cast) -> None:
    names = [f"Player {n}" for n in range(10)]
    note_change(cast.head, "rated players", cast.team, team=cast.team.pk, after=names)
    (line,) = sentences(cast, "rated players")
    assert "Player 7 and 2 more" in line
    assert "Player 8" not in line


def test_a_line_of_an_older_version_is_told_all_the_same(cast: Cast) -> None:
    line = Change(user=cast.head, verb="waxed", subject="the floor", team=cast.team.pk)
    assert told(line, language_of("en")) == "Hedda: waxed the floor"


def test_no_verb_is_written_that_no_sentence_tells(cast: Cast) -> None:
    with pytest.raises(KeyError):
        note_change(cast.head, "waxed", "the floor")


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("verb", sorted(VERBS))
def test_every_verb_has_its_sentence(verb: str, code: str) -> None:
    line = change(User(name="Hedda"), verb, "a thing", before="old", after="new")
    assert told(line, language_of(code)).startswith("Hedda ")


def test_a_verb_has_one_sentence() -> None:
    with pytest.raises(ValueError, match="renamed"):
        tell({"cast": {"renamed": "{who} named {subject} anew."}})


def test_every_verb_is_written_somewhere() -> None:
    """A sentence for what nothing writes would be a promise that is not kept."""
    texts = {
        node.value
        for app in APPS
        for path in (ROOT / app).rglob("*.py")
        if path.name != "verbs.py"
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert set(VERBS) - texts == {"took back reps"}  # by its name


# Filtered and paged.


def test_it_is_filtered_by_what_and_by_whom(cast: Cast) -> None:
    note_change(cast.head, "renamed", "Gangway", team=cast.team.pk)
    note_change(cast.assistant, "set minutes", "Herons", team=cast.team.pk, after=["Ida"])
    note_change(cast.assistant, "noted days off", "Snow", team=cast.team.pk)
    text = read(cast, cast.head, team_record(cast, f"?what=cast&who={cast.assistant.pk}"))
    assert "Arne set the expected minutes of Ida." in text
    assert "Snow" not in text
    assert "Gangway" not in text
    assert '<option value="cast" selected>' in text
    assert f'<option value="{cast.assistant.pk}" selected>' in text


def test_what_no_person_did_is_a_filter_too(cast: Cast) -> None:
    note_change(cast.head, "renamed", "Gangway", team=cast.team.pk)
    note_change(None, "erased a player", "#4817", team=cast.team.pk)
    text = read(cast, cast.head, team_record(cast, "?who=0"))
    assert "#4817" in text
    assert "Gangway" not in text


@pytest.mark.parametrize(
    "query", ["?what=moon", "?who=²", "?before=-1", "?who=" + "9" * 40, "?before=x&what="]
)
def test_what_makes_no_sense_asks_for_nothing(cast: Cast, query: str) -> None:
    note_change(cast.head, "renamed", "Gangway", team=cast.team.pk)
    assert "Gangway" in read(cast, cast.head, team_record(cast, query))


def test_the_pages_together_show_each_line_once(cast: Cast) -> None:
    made = [
        change(cast.head, "kept a pattern", f"number-{n}.", team=cast.team.pk)
        for n in range(2 * EACH + 3)
    ]
    note_changes(made)
    address, seen = team_record(cast, "?what=plans"), ""
    for lines in (EACH, EACH, 3):
        text = read(cast, cast.head, address)
        assert text.count("<time") == lines
        seen += text
        address = team_record(cast, _link(text, "Older") or "")
    assert not _link(text, "Older")
    assert _link(text, "Newest") == "?what=plans"
    assert all(seen.count(f"number-{n}.") == 1 for n in range(2 * EACH + 3))


def _link(text: str, label: str) -> str | None:
    before, found, _ = text.partition(f'">{label}</a>')
    return before.rpartition('href="')[2].replace("&amp;", "&") if found else None


def test_a_long_record_asks_no_more_often(cast: Cast) -> None:
    def queries(address: str, person: User) -> int:
        client = cast.client(person)
        client.get(address)
        with CaptureQueriesContext(connection) as found:
            client.get(address)
        return len(found)

    addresses = ((team_record(cast), cast.head), (reverse("club-record"), cast.runner))
    cell = {"role": "1", "depth": 1, "before": None}
    who = (cast.head, cast.assistant, cast.runner)

    def grow(n: int) -> None:
        for team in (cast.team, cast.other_team):
            for i in range(n):
                after = [{**cell, "after": cast.players[i % 7].pk}]
                note_change(who[i % 3], "cast", f"Play {i}", team=team.pk, after=after)

    grow(1)
    before = [queries(*each) for each in addresses]
    grow(40)
    assert [queries(*each) for each in addresses] == before


# It only grows.


def a_line(cast: Cast) -> Change:
    return note_change(cast.head, "renamed", "Gangway", team=cast.team.pk)


def test_a_line_is_neither_saved_again_nor_deleted(cast: Cast) -> None:
    line = a_line(cast)
    line.verb = "dropped"
    with pytest.raises(AppendOnlyError):
        line.save()
    with pytest.raises(AppendOnlyError):
        Change.objects.get(pk=line.pk).save(update_fields=["subject"])
    with pytest.raises(AppendOnlyError):
        line.delete()
    assert Change.objects.get(pk=line.pk).verb == "renamed"


def test_no_way_through_the_manager_changes_lines(cast: Cast) -> None:
    line = a_line(cast)
    rows = Change.objects.filter(pk=line.pk)
    with pytest.raises(AppendOnlyError):
        rows.update(subject="Pier")
    with pytest.raises(AppendOnlyError):
        rows.delete()
    with pytest.raises(AppendOnlyError):
        rows._raw_delete("default")
    with pytest.raises(AppendOnlyError), transaction.atomic():
        Change.objects.bulk_update([line], ["subject"])
    with pytest.raises(AppendOnlyError), transaction.atomic():
        Change.objects.update_or_create(pk=line.pk, defaults={"subject": "Pier"})
    with pytest.raises(AppendOnlyError):
        Change.objects.bulk_create(
            [line], update_conflicts=True, update_fields=["subject"], unique_fields=["id"]
        )
    assert rows.get().subject == "Gangway"


def test_who_stands_in_the_record_is_not_deleted(cast: Cast) -> None:
    a_line(cast)
    Staff.objects.filter(user=cast.head).delete()
    with pytest.raises(ProtectedError):
        cast.head.delete()


@pytest.mark.parametrize(
    "set_to", ["at = '2020-01-01'", "user_id = NULL", "verb = 'dropped'", "team = 0", "id = -1"]
)
def test_the_database_keeps_who_what_and_when(cast: Cast, set_to: str) -> None:
    line = a_line(cast)
    with pytest.raises(DatabaseError, match="only grows"), transaction.atomic():
        connection.cursor().execute(f"UPDATE shared_change SET {set_to} WHERE id = %s", [line.pk])
    assert Change.objects.get(pk=line.pk).verb == "renamed"


def test_a_person_is_put_into_other_words_and_who_and_when_stay(cast: Cast) -> None:
    line = note_change(cast.head, "saved player", "Ida (4)", team=cast.team.pk, after=["Ida (4)"])
    other = note_change(cast.head, "saved player", "Ida (4)", team=cast.other_team.pk)
    reword(cast.team.pk, lambda text: text.replace("Ida (4)", "#4817"))
    found = Change.objects.get(pk=line.pk)
    assert (found.subject, found.after) == ("#4817", ["#4817"])
    assert (found.at, found.user, found.verb) == (line.at, cast.head, "saved player")
    assert Change.objects.get(pk=other.pk).subject == "Ida (4)"


def test_the_record_follows_a_new_name(cast: Cast) -> None:
    ida = cast.players[0]
    note_change(cast.head, "saved player", ida, team=cast.team.pk)
    before, ida.name = ida.call_name, "Idunn"
    ida.save()
    follow_name(ida, before)
    assert "Idunn" in Change.objects.get(verb="saved player").subject


def test_a_deleted_team_takes_its_lines_and_no_others(cast: Cast) -> None:
    a_line(cast)
    stays = note_change(cast.stranger, "renamed", "Pier", team=cast.other_team.pk)
    forget_team(cast.team.pk)
    assert list(Change.objects.exclude(team=None)) == [stays]


def test_the_unguarded_door_is_opened_in_one_place_only() -> None:
    found = {
        path.relative_to(ROOT).as_posix()
        for app in APPS
        for path in (ROOT / app).rglob("*.py")
        if "migrations" not in path.parts
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Attribute)
        and node.attr == "_base_manager"
        and isinstance(node.value, ast.Name)
        and node.value.id == "Change"
    }
    assert found == {"shared/record.py"}


def test_every_matter_has_lines_to_tell() -> None:
    assert {told.matter for told in VERBS.values()} == set(MATTERS)


def test_an_empty_record_and_an_empty_answer_are_told_apart(cast: Cast) -> None:
    asked = team_record(cast)
    assert "Nothing has been changed here yet." in read(cast, cast.head, asked)
    assert "There is no such change." in read(cast, cast.head, f"{asked}?what=cast")
