"""Drills: kept for a team, taken by a block, shown where it is run, seen by its staff alone."""

from __future__ import annotations

from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image
from pypdf import PdfReader

from coachbook.demo import factories
from practice.drills.views import LONGEST
from practice.models import Block, Drill, PlanPattern
from practice.plan.page import rows_of
from practice.reps.page import court_data
from practice.season.copies import TakenAlong, begin_season
from roster.models import Staff, Team
from tests.cast import Cast

EXIF_GPS = 0x8825  # the tag of the place in a photo's Exif data (CIPA DC-008, 4.6.3)
GPS_LATITUDE_REF = 1
TYPED = {"name": "Paper boats", "minutes": "7", "text": "Two lines.\nSwap sides."}


def photo(size: tuple[int, int] = (3000, 2000)) -> SimpleUploadedFile:
    """A photo as a phone keeps it: large, and with the place where it was taken."""
    exif = Image.Exif()
    exif.get_ifd(EXIF_GPS)[GPS_LATITUDE_REF] = "N"
    out = BytesIO()
    Image.new("RGB", size, "navy").save(out, "JPEG", exif=exif)
    assert b"Exif" in out.getvalue()
    return SimpleUploadedFile("board.jpg", out.getvalue(), "image/jpeg")


def made(cast: Cast, **more: object) -> Drill:
    client = cast.client(cast.head)
    sent = client.post(reverse("new-drill", args=[cast.team.pk]), {**TYPED, **more})
    assert sent.status_code == 302
    return Drill.objects.get(name="Paper boats", team=cast.team)


def shown(cast: Cast, name: str, pk: int) -> str:
    return cast.client(cast.assistant).get(reverse(name, args=[pk])).content.decode()


def test_a_picture_is_made_small_and_says_no_place(cast: Cast) -> None:
    drill = made(cast, file=photo())
    kept = Image.open(BytesIO(bytes(drill.picture)))
    assert max(kept.size) == LONGEST
    assert not kept.getexif()
    answer = cast.client(cast.assistant).get(reverse("drill-picture", args=[drill.pk]))
    assert answer.content == bytes(drill.picture)
    assert "private" in answer["Cache-Control"]
    assert f"picture.jpg?{drill.picture_mark}" in shown(cast, "drill", drill.pk)


def test_what_is_no_picture_is_told_at_its_field_and_nothing_is_kept(cast: Cast) -> None:
    bad = SimpleUploadedFile("board.jpg", b"%PDF-1.7 no photo")
    path = reverse("new-drill", args=[cast.team.pk])
    answer = cast.client(cast.head).post(path, {**TYPED, "file": bad})
    assert answer.status_code == 422
    assert 'id="id_file_error"' in answer.content.decode()
    assert not Drill.objects.filter(name="Paper boats").exists()


def test_a_name_is_given_once(cast: Cast) -> None:
    made(cast)
    again = cast.client(cast.head).post(reverse("new-drill", args=[cast.team.pk]), TYPED)
    assert again.status_code == 422
    assert "There is a drill of that name already." in again.content.decode()


def test_a_block_takes_what_the_drill_says_and_plan_print_and_log_show_it(cast: Cast) -> None:
    drill = made(cast, equipment="4 cones", file=photo())
    sent = {"kind": "skill", "drill": drill.pk}
    path = reverse("add-block", args=[cast.practice.pk])
    assert cast.client(cast.head).post(path, sent).status_code == 302
    block = Block.objects.get(drill=drill)
    assert (block.title, block.minutes, block.equipment) == ("Paper boats", 7, "4 cones")
    for name in ("practice", "court-now"):
        page = shown(cast, name, cast.practice.pk)
        assert "Swap sides." in page
        assert reverse("drill-picture", args=[drill.pk]) in page
    answer = cast.client(cast.assistant).get(reverse("plan-pdf", args=[cast.practice.pk]))
    (leaf,) = PdfReader(BytesIO(answer.content)).pages
    assert "Swap sides." in leaf.extract_text()
    assert len(leaf.images) == 1


def test_what_is_typed_stands_before_what_the_drill_says(cast: Cast) -> None:
    drill = made(cast, equipment="4 cones")
    sent = {"kind": "skill", "drill": drill.pk, "minutes": "9", "title": "Boats, left hand"}
    cast.client(cast.head).post(reverse("add-block", args=[cast.practice.pk]), sent)
    block = Block.objects.get(drill=drill)
    assert (block.title, block.minutes) == ("Boats, left hand", 9)


def test_a_block_without_drill_and_minutes_asks_for_minutes(cast: Cast) -> None:
    path = reverse("add-block", args=[cast.practice.pk])
    answer = cast.client(cast.head).post(path, {"kind": "skill"})
    assert answer.status_code == 422
    assert 'id="id_minutes_error"' in answer.content.decode()


def test_the_log_names_the_drill_of_its_block(cast: Cast) -> None:
    Block.objects.filter(pk=cast.block.pk).update(drill=made(cast))
    (block,) = court_data(cast.practice, cast.assistant)["blocks"]
    assert block["drill"] == "Paper boats"


def test_a_deleted_drill_leaves_its_name_and_minutes_in_the_plan(cast: Cast) -> None:
    drill = made(cast)
    client = cast.client(cast.head)
    sent = {"kind": "skill", "drill": drill.pk}
    client.post(reverse("add-block", args=[cast.practice.pk]), sent)
    client.post(reverse("edit-drill", args=[drill.pk]), {"delete": ""})
    assert not Drill.objects.filter(pk=drill.pk).exists()
    block = cast.practice.blocks.get(title="Paper boats")
    assert (block.minutes, block.drill) == (7, None)


def test_a_picture_is_taken_away_and_stays_when_only_words_change(cast: Cast) -> None:
    drill = made(cast, file=photo())
    path = reverse("edit-drill", args=[drill.pk])
    client = cast.client(cast.head)
    client.post(path, {**TYPED, "text": "Three lines."})
    drill.refresh_from_db()
    assert (drill.text, bool(drill.picture)) == ("Three lines.", True)
    client.post(path, {**TYPED, "no_picture": "on"})
    drill.refresh_from_db()
    assert (bytes(drill.picture), drill.picture_mark) == (b"", "")
    assert client.get(reverse("drill-picture", args=[drill.pk])).status_code == 404


@pytest.mark.parametrize("on_both", [True, False])
def test_drills_are_taken_over_from_a_team_that_one_is_on_the_staff_of(
    cast: Cast, on_both: bool
) -> None:
    own, theirs = (
        made(cast),
        factories.DrillFactory.create(team=cast.other_team, name="Paper boats"),
    )
    if on_both:
        Staff.objects.create(team=cast.other_team, user=cast.head, duty="assistant")
    path = reverse("take-drills", args=[cast.team.pk])
    client = cast.client(cast.head)
    assert (str(cast.other_team) in client.get(path).content.decode()) is on_both
    answer = client.post(path, {"drills": [theirs.pk]})
    assert answer.status_code == (302 if on_both else 422)
    names = set(cast.team.drills.values_list("name", flat=True))
    assert ("Paper boats 2" in names) is on_both
    if on_both:
        copy = cast.team.drills.get(name="Paper boats 2")
        assert bytes(copy.picture) == bytes(theirs.picture)
        assert own.pk != copy.pk != theirs.pk


def test_a_block_takes_no_drill_of_another_team(cast: Cast) -> None:
    theirs = factories.DrillFactory.create(team=cast.other_team)
    sent = {"kind": "skill", "drill": theirs.pk}
    answer = cast.client(cast.head).post(reverse("add-block", args=[cast.practice.pk]), sent)
    assert answer.status_code == 422


def test_patterns_keep_their_drills_into_the_next_season(cast: Cast) -> None:
    drill = made(cast, file=photo())
    client = cast.client(cast.head)
    sent = {"kind": "skill", "drill": drill.pk}
    client.post(reverse("add-block", args=[cast.practice.pk]), sent)
    client.post(reverse("keep-pattern", args=[cast.practice.pk]), {"name": "Tuesday"})
    new = Team(name=cast.team.name, season="2032/33", age_group="U18")
    begin_season(cast.team, new, TakenAlong(frozenset()), cast.head)
    copy = new.drills.get(name="Paper boats")
    assert copy.pk != drill.pk
    pattern = PlanPattern.objects.get(team=new)
    later = factories.PracticeFactory.create(team=new, date=timezone.localdate())
    client.post(reverse("begin-plan", args=[later.pk]), {"source": f"pattern-{pattern.pk}"})
    assert later.blocks.get(title="Paper boats").drill == copy
    copy.delete()
    other = factories.PracticeFactory.create(team=new)
    client.post(reverse("begin-plan", args=[other.pk]), {"source": f"pattern-{pattern.pk}"})
    assert other.blocks.get(title="Paper boats").drill is None


def test_a_page_of_a_plan_reads_no_picture(cast: Cast) -> None:
    Block.objects.filter(pk=cast.block.pk).update(drill=made(cast, file=photo()))
    (block,) = rows_of(cast.practice).values()
    assert block.drill is not None
    assert "picture" in block.drill.get_deferred_fields()
