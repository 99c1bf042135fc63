"""Where the pages of practice live."""

from __future__ import annotations

from django.urls import path

from practice.calls import views as calls
from practice.choosing import views as choosing
from practice.dates import views as dates
from practice.dates import views_dates as practices
from practice.drills import views as drills
from practice.film import views as film
from practice.games import views as games
from practice.install import views as install
from practice.learned import views as learned
from practice.opponents import views as opponents
from practice.plan import views as plan
from practice.plan import views_court as court
from practice.privacy import views as privacy
from practice.readiness import views as readiness
from practice.reps import views as log
from practice.reps import views_listed as listed
from practice.reps import views_undecided as undecided
from practice.season import views as season
from practice.season import views_move as moves
from practice.today import views as today

urlpatterns = [
    path("teams/<int:pk>/", today.today, name="team"),
    path("teams/<int:pk>/season/", season.season, name="season"),
    path("teams/<int:pk>/season/next/", season.next_season, name="next-season"),
    path("teams/<int:pk>/season/away/", season.put_season_away, name="put-season-away"),
    path("teams/<int:pk>/season/back/", season.bring_season_back, name="bring-season-back"),
    path("teams/<int:pk>/season/delete/", season.delete_team, name="delete-team"),
    path("players/<int:pk>/move/", moves.move, name="move-player"),
    path("players/<int:pk>/move/undo/", moves.undo_move, name="undo-move"),
    path("teams/<int:pk>/retention/", privacy.retention, name="retention"),
    path("players/<int:pk>/data/", privacy.player_data, name="player-data"),
    path("players/<int:pk>/data.<str:ending>", privacy.player_data_file, name="player-data-file"),
    path("teams/<int:pk>/practices/", practices.practices, name="practices"),
    path("teams/<int:pk>/practices/new/", practices.new_practice, name="new-practice"),
    path("teams/<int:pk>/games/new/", practices.new_game, name="new-game"),
    path("games/<int:pk>/install/", install.install, name="install"),
    path("games/<int:pk>/install/propose/", install.propose, name="propose"),
    path("games/<int:pk>/install/change/", install.change, name="change-install"),
    path("games/<int:pk>/install/accept/", install.accept, name="accept-install"),
    path("games/<int:pk>/install/improve/", install.improve, name="improve"),
    path("games/<int:pk>/install/stop/", install.stop, name="stop-improving"),
    path("games/<int:pk>/install/progress/", install.progress, name="improve-progress"),
    path("teams/<int:pk>/choice/", choosing.which_plays, name="which-plays"),
    path("teams/<int:pk>/choice/two/", choosing.two_plays, name="two-plays"),
    path("teams/<int:pk>/choice/progress/", choosing.progress, name="choice-progress"),
    path("teams/<int:pk>/choice/wish/", choosing.wish, name="wish-play"),
    path("teams/<int:pk>/choice/terms/", choosing.terms, name="choice-terms"),
    path("teams/<int:pk>/choice/take/", choosing.take, name="take-package"),
    path("teams/<int:pk>/choice/back/", choosing.take_back, name="take-package-back"),
    path("teams/<int:pk>/readiness/", readiness.readiness, name="readiness"),
    path(
        "players/<int:pk>/readiness/<int:entry>/<str:role>/",
        readiness.curve,
        name="readiness-curve",
    ),
    path("readiness/assumptions/", readiness.assumptions, name="assumptions"),
    path("readiness/calibrate/", readiness.calibrate_now, name="calibrate"),
    path("teams/<int:pk>/drills/", drills.drills, name="drills"),
    path("teams/<int:pk>/drills/new/", drills.new_drill, name="new-drill"),
    path("teams/<int:pk>/drills/take/", drills.take_drills, name="take-drills"),
    path("drills/<int:pk>/", drills.drill, name="drill"),
    path("drills/<int:pk>/edit/", drills.edit_drill, name="edit-drill"),
    path("drills/<int:pk>/picture.jpg", drills.drill_picture, name="drill-picture"),
    path("teams/<int:pk>/opponents/", opponents.opponents, name="opponents"),
    path("teams/<int:pk>/opponents/new/", opponents.new_opponent, name="new-opponent"),
    path("opponents/<int:pk>/", opponents.opponent, name="opponent"),
    path("opponents/<int:pk>/edit/", opponents.edit_opponent, name="edit-opponent"),
    path("opponents/<int:pk>/seen/", opponents.new_observation, name="new-observation"),
    path("seen/<int:pk>/", opponents.edit_observation, name="edit-observation"),
    path("teams/<int:pk>/calendar/", dates.month, name="calendar"),
    path("teams/<int:pk>/practices/repeat/", dates.new_series, name="new-series"),
    path("teams/<int:pk>/absences/", dates.add_absence, name="add-absence"),
    path("teams/<int:pk>/absences/<int:absence>/", dates.remove_absence, name="remove-absence"),
    path("teams/<int:pk>/days-off/", dates.add_days_off, name="add-days-off"),
    path("teams/<int:pk>/days-off/<int:off>/", dates.remove_days_off, name="remove-days-off"),
    path("teams/<int:pk>/feeds/", dates.feed_addresses, name="feeds"),
    path("calendar/<str:token>.ics", dates.feed, name="feed"),
    path("games/<int:pk>/", games.game, name="game"),
    path("games/<int:pk>/after/", learned.after_the_game, name="after-game"),
    path("games/<int:pk>/after/practise/", learned.practise, name="practise-lesson"),
    path("games/<int:pk>/install/lesson/", learned.leave_out, name="leave-lesson"),
    path("teams/<int:pk>/played/", learned.played, name="played"),
    path("games/<int:pk>/called/new/<int:entry>/", games.new_called, name="new-called"),
    path("games/<int:pk>/called/<uuid:called>/", games.edit_called, name="edit-called"),
    path(
        "games/<int:pk>/called/<uuid:called>/back/",
        games.take_called_back,
        name="take-called-back",
    ),
    path("games/<int:pk>/called/<uuid:called>/film/", film.called_films, name="called-films"),
    path("package/<int:pk>/film/", film.films, name="films"),
    path("court/games/<int:pk>/", games.game_log, name="game-log"),
    path("court/games/<int:pk>/calls/", calls.call_sheet, name="call-sheet"),
    path(
        "court/games/<int:pk>/boards/<int:entry>/<int:call>.<str:tag>.json",
        calls.call_board,
        name="call-board",
    ),
    path("games/<int:pk>/calls.pdf", calls.call_sheet_pdf, name="call-sheet-pdf"),
    path("games/<int:pk>/edit/", practices.edit_game, name="edit-game"),
    path("practices/<int:pk>/cancel/", dates.cancel_practice, name="cancel-practice"),
    path("practices/<int:pk>/", plan.practice, name="practice"),
    path("practices/<int:pk>/edit/", practices.edit_practice, name="edit-practice"),
    path("practices/<int:pk>/blocks/", plan.add_block, name="add-block"),
    path("practices/<int:pk>/blocks/<int:block>/", plan.edit_block, name="edit-block"),
    path("practices/<int:pk>/order/", plan.order_blocks, name="order-blocks"),
    path("practices/<int:pk>/begin/", plan.begin_plan, name="begin-plan"),
    path("practices/<int:pk>/pattern/", plan.keep_pattern, name="keep-pattern"),
    path("practices/<int:pk>/plan.pdf", plan.plan_pdf, name="plan-pdf"),
    path("court/<int:pk>/now/", plan.now, name="court-now"),
    path("practices/<int:pk>/attendance/", court.attendance, name="attendance"),
    path("practices/<int:pk>/reps/", listed.practice_reps, name="practice-reps"),
    path("practices/<int:pk>/reps/<uuid:rep>/back/", listed.rep_back, name="take-rep-back"),
    path("court/<int:pk>/", log.log, name="log"),
    path("court/worker.js", log.worker, name="log-worker"),
    path("teams/<int:pk>/taps/", log.taps, name="taps"),
    path("teams/<int:pk>/reps/held/", undecided.held_reps, name="held-reps"),
    path("teams/<int:pk>/reps/held/<uuid:rep>/", undecided.decide_rep, name="decide-rep"),
]
