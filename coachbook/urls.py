"""Where every page lives. Each app lists its own."""

from __future__ import annotations

from django.urls import include, path

from coachbook.accounts import views as sign_in
from coachbook.accounts import views_set_up as set_up
from coachbook.help import views as guide
from coachbook.home import views as home
from coachbook.home import views_service as service
from coachbook.home import views_starter as starter

urlpatterns = [
    path("", home.home, name="home"),
    path("set-up/", set_up.set_up, name="set-up"),
    path("sign-in/", sign_in.SignIn.as_view(), name="sign-in"),
    path("sign-in/<str:token>/", sign_in.by_link, name="sign-in-link"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    path("account/", sign_in.account, name="account"),
    path("staff/", sign_in.staff, name="staff"),
    path("help/", guide.contents, name="help"),
    path("help/<slug:slug>/", guide.topic, name="help-topic"),
    path("health/", service.health, name="health"),
    path("library/files/starter/", starter.starter_plays, name="starter-plays"),
    path("library/", include("plays.urls")),
    path("", include("roster.urls")),
    path("", include("practice.urls")),
]
