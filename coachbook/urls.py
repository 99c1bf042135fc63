"""Where every page lives. Each app lists its own."""

from __future__ import annotations

from django.urls import include, path

from coachbook.accounts import views as accounts
from coachbook.accounts import views_codes as codes
from coachbook.accounts import views_devices
from coachbook.accounts import views_mail as mail
from coachbook.accounts import views_passkeys as passkeys
from coachbook.accounts import views_second_step as second_step
from coachbook.accounts import views_staff as staff
from coachbook.accounts import views_team_staff as team_staff
from coachbook.help import views as help_views
from coachbook.home import starter
from coachbook.home import views as home
from coachbook.home.health import health
from coachbook.record import views as record
from plays.sharing import views as sharing

handler500 = "coachbook.faults.page_of_fault"

urlpatterns = [
    path("shared/<str:token>/", sharing.shared, name="shared"),
    path("shared/<str:token>/<slug:key>/", sharing.shared, name="shared-play"),
    path("shared/<str:token>/<slug:key>/file/", sharing.shared_file, name="shared-file"),
    path("", home.home, name="home"),
    path("set-up/", accounts.set_up, name="set-up"),
    path("set-up/<str:token>/", accounts.set_up_link, name="set-up-link"),
    path(
        "sign-in/",
        accounts.SignIn.as_view(http_method_names=["get", "head", "post"]),
        name="sign-in",
    ),
    path("sign-in/code/", codes.enter_code, name="sign-in-code"),
    path("sign-in/passkey/", passkeys.enter_by_passkey, name="sign-in-passkey"),
    path("sign-in/passkey/ask/", passkeys.ask_to_sign_in, name="ask-passkey"),
    path("sign-in/forgotten/", mail.forgotten, name="forgotten"),
    path("sign-in/<str:token>/", accounts.by_link, name="sign-in-link"),
    path("sign-out/", accounts.sign_out, name="sign-out"),
    path("account/", accounts.account, name="account"),
    path("account/devices/<int:pk>/end/", views_devices.end_session, name="end-session"),
    path("account/devices/end/", views_devices.end_other_sessions, name="end-other-sessions"),
    path("account/codes/", codes.one_time_codes, name="codes"),
    path("account/codes/recovery/", codes.new_recovery_codes, name="new-recovery-codes"),
    path("account/codes/end/", codes.end_codes, name="end-codes"),
    path("account/passkeys/", passkeys.own_passkeys, name="passkeys"),
    path("account/passkeys/ask/", passkeys.ask_to_add, name="ask-to-add-passkey"),
    path("account/passkeys/<int:pk>/remove/", passkeys.remove_passkey, name="remove-passkey"),
    path("account/second-step/", second_step.second_step, name="second-step"),
    path("account/mail/", mail.mail_address, name="mail-address"),
    path("account/mail/<str:token>/", mail.prove_mail, name="prove-mail"),
    path("staff/", staff.staff, name="staff"),
    path("staff/second-step/", second_step.ask_second_step, name="ask-second-step"),
    path("staff/<int:pk>/", staff.person, name="staff-person"),
    path("staff/<int:pk>/place/", staff.place, name="staff-place"),
    path("staff/<int:pk>/link/", staff.link, name="staff-link"),
    path("staff/<int:pk>/withdraw/", staff.withdraw, name="withdraw-staff-link"),
    path("staff/<int:pk>/codes/end/", codes.end_persons_codes, name="end-persons-codes"),
    path(
        "staff/<int:pk>/passkeys/end/", passkeys.end_persons_passkeys, name="end-persons-passkeys"
    ),
    path("staff/<int:pk>/remove/", staff.remove, name="remove-person"),
    path("staff/<int:pk>/back/", staff.back, name="bring-back-person"),
    path("teams/<int:pk>/staff/", team_staff.team_staff, name="team-staff"),
    path("teams/<int:pk>/staff/<int:person>/duty/", team_staff.change_duty, name="change-duty"),
    path("teams/<int:pk>/staff/<int:person>/leave/", team_staff.leave, name="leave-staff"),
    path("changes/", record.club_record, name="club-record"),
    path("teams/<int:pk>/changes/", record.team_record, name="team-record"),
    path("help/", help_views.contents, name="help"),
    path("help/<slug:slug>/", help_views.topic, name="help-topic"),
    path("health/", health, name="health"),
    path("library/files/starter/", starter.starter_plays, name="starter-plays"),
    path("library/", include("plays.urls")),
    path("", include("roster.urls")),
    path("", include("practice.urls")),
]
