"""Where every page lives. Each app lists its own."""

from __future__ import annotations

from django.urls import include, path

from coachbook.accounts import views as accounts
from coachbook.help import views as help_views
from coachbook.home import views as home
from coachbook.home.health import health

urlpatterns = [
    path("", home.home, name="home"),
    path("set-up/", accounts.set_up, name="set-up"),
    path("set-up/<str:token>/", accounts.set_up_link, name="set-up-link"),
    path("sign-in/", accounts.SignIn.as_view(), name="sign-in"),
    path("sign-in/<str:token>/", accounts.by_link, name="sign-in-link"),
    path("sign-out/", accounts.sign_out, name="sign-out"),
    path("account/", accounts.account, name="account"),
    path("staff/", accounts.staff, name="staff"),
    path("help/", help_views.contents, name="help"),
    path("help/<slug:slug>/", help_views.topic, name="help-topic"),
    path("health/", health, name="health"),
    path("library/files/starter/", home.starter_plays, name="starter-plays"),
    path("library/", include("plays.urls")),
    path("", include("roster.urls")),
    path("", include("practice.urls")),
]
