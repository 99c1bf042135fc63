"""What the record of changes tells of the library: its plays and the links to them.

The slots of a sentence are told in ``shared.verbs``.
"""

from __future__ import annotations

from typing import Final

from shared.core.language import N_
from shared.verbs import Told

VERBS: Final[Told] = {
    "plays": {
        "published": N_("{who} published {name}."),
        "began a draft": N_("{who} began a draft of {subject}."),
        "went on with a draft": N_("{who} went on with the draft of {subject} by {before}."),
        "discarded": N_("{who} discarded the draft of {name}."),
        "put away": N_("{who} put the play {subject} away."),
        "brought back": N_("{who} brought {subject} back."),
        "took a copy": N_("{who} saved a copy of {name}."),
        "brought in plays": N_("{who} brought plays into the library: {count}."),
    },
    "links": {
        "shared": N_("{who} made a link by which anybody reads {subject}."),
        "withdrew shared": N_("{who} withdrew a link by which anybody read {subject}."),
    },
}
