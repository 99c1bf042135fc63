"""Where the pages of the roster live."""

from __future__ import annotations

from django.urls import path

from roster.views import cast, pace, package, players, roster_file, sheet_files, sheets, teams

urlpatterns = [
    path("teams/new/", teams.new_team, name="new-team"),
    path("teams/<int:pk>/", teams.team, name="team"),
    path("teams/<int:pk>/settings/", teams.edit_team, name="edit-team"),
    path("teams/<int:pk>/pace/", pace.team_pace, name="team-pace"),
    path("teams/<int:pk>/units/new/", players.edit_unit, name="new-unit"),
    path("teams/<int:pk>/units/<int:unit>/", players.edit_unit, name="edit-unit"),
    path("teams/<int:pk>/roster/", players.roster, name="roster"),
    path("teams/<int:pk>/roster/new/", players.new_player, name="new-player"),
    path("teams/<int:pk>/roster/import/", roster_file.import_roster, name="import-roster"),
    path("teams/<int:pk>/roster/file/", roster_file.export_roster, name="export-roster"),
    path("players/<int:pk>/", players.edit_player, name="edit-player"),
    path("players/<int:pk>/availability/", players.set_availability, name="set-availability"),
    path("players/<int:pk>/leave/", players.leave_team, name="leave-team"),
    path("teams/<int:pk>/package/", package.package, name="package"),
    path("teams/<int:pk>/package/take-up/<slug:key>/", package.take_up, name="take-up"),
    path("package/<int:pk>/", package.edit_entry, name="edit-entry"),
    path("package/<int:pk>/drop/", package.drop, name="drop-entry"),
    path("package/<int:pk>/revision/", package.update_revision, name="update-revision"),
    path("teams/<int:pk>/cast/", cast.cast, name="cast"),
    path("package/<int:pk>/cast/", cast.cast_play, name="cast-play"),
    path("teams/<int:pk>/sheets/", sheets.sheets, name="sheets"),
    path("teams/<int:pk>/sheets/links/", sheets.make_links, name="make-links"),
    path("teams/<int:pk>/sheets/cards/", sheets.link_cards, name="link-cards"),
    path("teams/<int:pk>/sheets/all.pdf", sheet_files.sheets_pdf, name="sheets-pdf"),
    path("teams/<int:pk>/sheets/each.zip", sheet_files.sheets_zip, name="sheets-zip"),
    path("players/<int:pk>/sheet/", sheets.sheet, name="sheet"),
    path("players/<int:pk>/sheet.pdf", sheet_files.sheet_pdf, name="sheet-pdf"),
    path("players/<int:pk>/link/", sheets.new_link, name="new-link"),
    path("my/<str:token>/", sheets.my_sheet, name="my-sheet"),
    path("my/<str:token>/sheet.pdf", sheet_files.my_sheet_pdf, name="my-sheet-pdf"),
]
