"""Where the pages of the library live.

What is about one play stands under its key, and what is about many under ``files/``, followed
by a word that no page of a play has: so a play may have any key.
"""

from __future__ import annotations

from django.urls import path, re_path

from plays.check import views as check
from plays.editor import views as editor
from plays.editor import views_photo as traced
from plays.files import views as files
from plays.library import views as library
from plays.play import views as play
from plays.play import views_drafts as drafts
from plays.play import views_translations as translations
from plays.sharing import views as sharing
from plays.starts import views as starts
from plays.tuning import views as tuning
from plays.writing import views as writing

urlpatterns = [
    path("", library.library, name="library"),
    path("files/new/", starts.new_play, name="new-play"),
    path("files/bring-in/", files.import_plays, name="import-plays"),
    path("files/write/", writing.write_play, name="write-play"),
    path("files/write/seen/", writing.written_play, name="written-play"),
    path("files/library.json", files.library_file, name="library-file"),
    path("files/share/", sharing.share, name="share-library"),
    path("files/checks/", check.check_table, name="checks"),
    path("<slug:key>/", play.play, name="play"),
    path("<slug:key>/check/", check.check, name="check"),
    path("<slug:key>/shorthand/", writing.rewrite_play, name="rewrite-play"),
    path("<slug:key>/draw/", editor.draw_play, name="draw-play"),
    path("<slug:key>/drawn/", editor.drawn_play, name="drawn-play"),
    path("<slug:key>/drawn/judged/", editor.judged_play, name="judged-play"),
    path("<slug:key>/photo/", traced.photo, name="draw-photo"),
    path("<slug:key>/photo/corners/", traced.photo_corners, name="draw-photo-corners"),
    path("<slug:key>/photo/delete/", traced.drop_photo, name="draw-photo-drop"),
    re_path(
        r"^(?P<key>[-\w]+)/photo/(?P<which>photo|court)\.jpg$",
        traced.photo_file,
        name="draw-photo-file",
    ),
    path("<slug:key>/words/", drafts.edit_texts, name="edit-texts"),
    path("<slug:key>/words/<str:code>/", translations.translate_texts, name="translate-texts"),
    path("<slug:key>/tune/", tuning.tune, name="tune"),
    path("<slug:key>/tune/progress/", tuning.progress, name="tune-progress"),
    path("<slug:key>/tune/stop/", tuning.stop, name="stop-tuning"),
    path("<slug:key>/tune/keep/", tuning.keep_tuned, name="keep-tuned"),
    path("<slug:key>/share/", sharing.share, name="share-play"),
    path("<slug:key>/put-away/", library.away, name="put-away"),
    path("<slug:key>/bring-back/", library.back, name="bring-back"),
    path("<slug:key>/revisions/", play.revisions, name="revisions"),
    path("<slug:key>/revisions/<int:number>/", play.play, name="revision"),
    path("<slug:key>/revisions/<int:number>/check/", check.check, name="check-revision"),
    path("<slug:key>/revisions/<int:number>/motion/", check.check_motion, name="check-motion"),
    path("<slug:key>/revisions/<int:number>/bands/", check.check_bands, name="check-bands"),
    path("<slug:key>/revisions/<int:number>/remedy/", check.apply_fix, name="apply-remedy"),
    path("<slug:key>/revisions/<int:number>/file/", play.play_file, name="play-file"),
    path("<slug:key>/revisions/<int:number>/picture/", play.play_picture, name="play-picture"),
    path("<slug:key>/revisions/<int:number>/keep/", drafts.save_view, name="save-view"),
    path("<slug:key>/revisions/<int:number>/publish/", drafts.publish_draft, name="publish-draft"),
    path("<slug:key>/revisions/<int:number>/discard/", drafts.discard_draft, name="discard-draft"),
    re_path(
        r"^(?P<key>[-\w]+)/revisions/(?P<number>[0-9]{1,9})/card-(?P<scheme>light|dark)\.svg$",
        play.play_card,
        name="play-card",
    ),
]
