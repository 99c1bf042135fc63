"""What the record of changes tells of who may do what, and of signing in.

The slots of a sentence are told in ``shared.verbs``.
"""

from __future__ import annotations

from typing import Final

from shared.core.language import N_
from shared.verbs import Told

VERBS: Final[Told] = {
    "links": {
        "made sign-in link": N_("{who} made a sign-in link for {subject}."),
        "mailed sign-in link": N_("{who} mailed a sign-in link to {subject}."),
        "withdrew sign-in link": N_("{who} withdrew the sign-in link of {subject}."),
    },
    "rights": {
        "founded": N_("{who} founded {subject}."),
        "invited": N_("{who} invited {subject} by a link: {after}."),
        "chose a password": N_("{who} chose a new password."),
        "set mail address": N_("{who} gave a mail address."),
        "took mail address away": N_("{who} took the own mail address out."),
        "switched on codes": N_("{who} switched one-time codes on."),
        "switched off codes": N_("{who} switched one-time codes off for {subject}."),
        "made recovery codes": N_("{who} made new recovery codes."),
        "used recovery code": N_("{who} signed in with a recovery code."),
        "added passkey": N_("{who} added a passkey: {after}."),
        "removed passkey": N_("{who} removed a passkey of {subject}: {before}."),
        "removed passkeys": N_("{who} removed all passkeys of {subject}."),
        "set who needs a second step": N_(
            "{who} set of whom a second step to sign in is asked: {after}."
        ),
        "gave duty": N_("{who} gave {subject} a place on the staff of the team: {after}."),
        "took from team": N_("{who} took {subject} off the staff of the team."),
        "gave rights": N_("{who} changed the rights of {subject} in the club: {after}."),
        "removed person": N_("{who} closed the account of {subject}."),
        "brought back person": N_("{who} opened the account of {subject} again."),
    },
}
