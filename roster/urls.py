"""Where the pages of the roster live."""

from __future__ import annotations

from django.urls import path

from roster.cast import views as cast
from roster.cast import views_proposal as proposals
from roster.cast import views_wishes as wishes
from roster.coverage import views as coverage
from roster.coverage import views_five as five
from roster.package import views as package
from roster.player import views as player
from roster.player import views_quiz as player_quiz
from roster.quiz import views as quiz
from roster.sheets import views as sheets
from roster.sheets import views_files as sheet_files
from roster.sheets import views_print as printing
from roster.sheets import views_shelf as shelf
from roster.squad import views as players
from roster.squad import views_file as roster_file
from roster.squad import views_links as links
from roster.squad import views_pace as pace
from roster.squad import views_ratings as ratings
from roster.squad import views_team as teams

urlpatterns = [
    path("playbook/", shelf.playbook, name="playbook"),
    path("playbook/<int:pk>/file/", shelf.playbook_file, name="playbook-file"),
    path("teams/new/", teams.new_team, name="new-team"),
    path("teams/<int:pk>/settings/", teams.edit_team, name="edit-team"),
    path("teams/<int:pk>/pace/", pace.team_pace, name="team-pace"),
    path("teams/<int:pk>/units/new/", players.edit_unit, name="new-unit"),
    path("teams/<int:pk>/units/<int:unit>/", players.edit_unit, name="edit-unit"),
    path("teams/<int:pk>/roster/", players.roster, name="roster"),
    path("teams/<int:pk>/roster/new/", players.new_player, name="new-player"),
    path("teams/<int:pk>/ratings/", ratings.team_ratings, name="team-ratings"),
    path("teams/<int:pk>/roster/import/", roster_file.import_roster, name="import-roster"),
    path("teams/<int:pk>/roster/file/", roster_file.export_roster, name="export-roster"),
    path("players/<int:pk>/", players.edit_player, name="edit-player"),
    path("players/<int:pk>/availability/", players.set_availability, name="set-availability"),
    path("players/<int:pk>/leave/", players.leave_team, name="leave-team"),
    path("teams/<int:pk>/package/", package.package, name="package"),
    path("teams/<int:pk>/package/take-up/", package.take_up_ticked, name="take-up-ticked"),
    path("teams/<int:pk>/package/take-up/<slug:key>/", package.take_up, name="take-up"),
    path("package/<int:pk>/", package.edit_entry, name="edit-entry"),
    path("package/<int:pk>/drop/", package.drop, name="drop-entry"),
    path("package/<int:pk>/revision/", package.update_revision, name="update-revision"),
    path("teams/<int:pk>/cast/", cast.cast, name="cast"),
    path("teams/<int:pk>/five/", five.the_five, name="the-five"),
    path("teams/<int:pk>/five/card.pdf", five.bench_card, name="bench-card"),
    path("teams/<int:pk>/cast/grid.pdf", five.cast_pdf, name="cast-pdf"),
    path("teams/<int:pk>/coverage/", coverage.coverage, name="coverage"),
    path("teams/<int:pk>/coverage/lessons/", coverage.wish_lesson, name="wish-lesson"),
    path("teams/<int:pk>/minutes/", wishes.team_minutes, name="team-minutes"),
    path("teams/<int:pk>/cast/wishes/", wishes.cast_wishes, name="cast-wishes"),
    path("players/<int:pk>/cast/", cast.player_cast, name="player-cast"),
    path("teams/<int:pk>/cast/record/", cast.cast_record, name="cast-record"),
    path("teams/<int:pk>/cast/undo/", cast.cast_undo, name="cast-undo"),
    path("teams/<int:pk>/cast/propose/", proposals.propose, name="propose-cast"),
    path("teams/<int:pk>/cast/proposal/", proposals.proposal, name="cast-proposal"),
    path("teams/<int:pk>/cast/accept/", proposals.accept, name="accept-cast"),
    path("teams/<int:pk>/cast/stop/", proposals.stop, name="stop-proposal"),
    path("package/<int:pk>/cast/", cast.cast_play, name="cast-play"),
    path("package/<int:pk>/cast/stands/", cast.cast_stands, name="cast-stands"),
    path("package/<int:pk>/cast/<str:role>/<int:depth>/", cast.cast_cell, name="cast-cell"),
    path("package/<int:pk>/cast/<str:role>/<int:depth>/lock/", cast.lock_cell, name="lock-cell"),
    path("teams/<int:pk>/sheets/", sheets.sheets, name="sheets"),
    path("teams/<int:pk>/understood/", quiz.understood, name="understood"),
    path("teams/<int:pk>/links/", links.link_cards, name="link-cards"),
    path("teams/<int:pk>/links/make/", links.make_links, name="make-links"),
    path("teams/<int:pk>/links/withdraw/", links.withdraw_all_links, name="withdraw-all-links"),
    path("teams/<int:pk>/sheets/all.pdf", sheet_files.sheets_pdf, name="sheets-pdf"),
    path("teams/<int:pk>/sheets/each.zip", sheet_files.sheets_zip, name="sheets-zip"),
    path("teams/<int:pk>/print/", printing.print_page, name="print"),
    path("teams/<int:pk>/print/booklets/", printing.make_papers, name="print-booklets"),
    path("teams/<int:pk>/print/<slug:kind>.pdf", printing.paper, name="paper"),
    path("players/<int:pk>/sheet/", sheets.sheet, name="sheet"),
    path("players/<int:pk>/sheet.pdf", sheet_files.sheet_pdf, name="sheet-pdf"),
    path("players/<int:pk>/link/", links.new_link, name="new-link"),
    path("players/<int:pk>/link/withdraw/", links.withdraw_link, name="withdraw-link"),
    path("my/worker.js", player.worker, name="my-worker"),
    path("my/<str:token>/", player.my_plays, name="my-plays"),
    path("my/<str:token>/reading/", player.my_reading, name="my-reading"),
    path("my/<str:token>/open/", player.open_here, name="my-open"),
    path("my/<str:token>/<int:entry>/<int:role>/", player.my_part, name="my-play"),
    path("my/<str:token>/<int:entry>/<int:role>/moving/", player.my_moving_part, name="my-moving"),
    path("my/<str:token>/<int:entry>/<int:role>/motion/", player.my_motion, name="my-motion"),
    path("my/<str:token>/<int:entry>/<int:role>/quiz/", player_quiz.my_quiz, name="my-quiz"),
    path("my/<str:token>/<int:entry>/<int:role>/got/", player.got_it, name="got-it"),
    path("my/<str:token>/sheet.pdf", sheet_files.my_sheet_pdf, name="my-sheet-pdf"),
]
