"""Where the pages of practice live."""

from __future__ import annotations

from django.urls import path

from practice.views import court, held, log, practices

urlpatterns = [
    path("teams/<int:pk>/practices/", practices.practices, name="practices"),
    path("teams/<int:pk>/practices/new/", practices.new_practice, name="new-practice"),
    path("teams/<int:pk>/games/new/", practices.new_game, name="new-game"),
    path("practices/<int:pk>/", practices.practice, name="practice"),
    path("practices/<int:pk>/edit/", practices.edit_practice, name="edit-practice"),
    path("practices/<int:pk>/blocks/", practices.add_block, name="add-block"),
    path("practices/<int:pk>/blocks/<int:block>/", practices.edit_block, name="edit-block"),
    path("practices/<int:pk>/attendance/", court.attendance, name="attendance"),
    path("court/<int:pk>/", log.log, name="log"),
    path("court/worker.js", log.worker, name="log-worker"),
    path("teams/<int:pk>/taps/", log.taps, name="taps"),
    path("teams/<int:pk>/reps/held/", held.held_reps, name="held-reps"),
    path("teams/<int:pk>/reps/held/<uuid:rep>/", held.decide_rep, name="decide-rep"),
]
