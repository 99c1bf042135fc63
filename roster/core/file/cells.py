"""The cells of a roster file: what each column is called, and what may stand in it.

A reader of a cell gives its value or raises BadCellError with a whole sentence. An empty cell
is "not known", apart from name and number, which must be there, and availability, where it
is "available".
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping
from typing import Final, TypeVar

from plays.core.play import Quality
from roster.core.people import HEIGHTS_CM, RATED, Availability
from shared.core.language import N_, Language

Meant = TypeVar("Meant")  # what words of a file stand for

NAME: Final = "name"
NUMBER: Final = "number"
HEIGHT: Final = "height_cm"
POSITIONS: Final = "positions"
AVAILABILITY: Final = "availability"
COLUMNS: Final = (NAME, NUMBER, HEIGHT, POSITIONS, *(str(q) for q in RATED), AVAILABILITY)

LONGEST_NAME: Final = 40
LONGEST_CELL: Final = 200  # of anything that is read letter by letter; ours

# Other words for the columns, as people write them; English first, then Spanish.
_OTHER_NAMES: Final[Mapping[str, str]] = {
    NAME: "player, player name, nickname, full name, first name, nombre, jugador, jugadora, apodo",
    NUMBER: "no, nr, num, #, shirt, shirt number, jersey, jersey number, número, dorsal",
    HEIGHT: "height, height in cm, cm, ht, height ft in, altura, altura cm, estatura",
    POSITIONS: "position, pos, usual position, usual positions, posición, posiciones",
    Quality.PASSING: "pass, passes, passer, pase, pases",
    Quality.STRENGTH: "strong, power, fuerza",
    Quality.SPEED: "fast, pace, velocidad, rapidez",
    Quality.FINISHING: "finish, finisher, finishing at the rim, finalización",
    Quality.SHOOTING: "shot, shoot, shooter, tiro",
    Quality.SCREENING: "screen, screens, screener, bloqueo, bloqueos",
    Quality.READING: "read, reads, reading the play, reading the game, lectura, lectura de juego",
    AVAILABILITY: "available, status, disponibilidad, disponible, estado",
}
_AVAILABILITY_WORDS: Final[Mapping[Availability, str]] = {
    Availability.AVAILABLE: "available, disponible",
    Availability.LIMITED: "limited, limitada, limitado, con límites",
    Availability.OUT: "out, out until cleared, fuera, fuera hasta el visto bueno, no disponible",
}
POSITION_LETTERS: Final[Mapping[str, str]] = {"1": "PG", "2": "SG", "3": "SF", "4": "PF", "5": "C"}
_POSITION_WORDS: Final[Mapping[str, str]] = {
    "1": "PG, 1, point guard, point, base",
    "2": "SG, 2, shooting guard, off guard, escolta",
    "3": "SF, 3, small forward, wing, alero, alera",
    "4": "PF, 4, power forward, ala-pívot",
    "5": "C, 5, centre, center, post, pívot",
}

# Box scores know guards, forwards and centres only (common practice): a guard is 1 or 2.
_WIDE_POSITIONS: Final[Mapping[tuple[str, ...], str]] = {
    ("1", "2"): "G, guard, guards",
    ("3", "4"): "F, forward, forwards",
}

LONG_CELL: Final = N_("This cell has {found} letters; {most} is the most.")
EMPTY_NAME: Final = N_("The name is empty: write a name or a nickname.")
LONG_NAME: Final = N_("The name has more than {most} letters.")
NO_NUMBER: Final = N_("The shirt number is empty: write 0, 00 or 1 to 99.")
STRANGE_NAME: Final = N_("The name has a line break or another invisible sign in it.")
BAD_NUMBER: Final = N_("“{found}” is no shirt number: use 0, 00 or 1 to 99.")
BAD_HEIGHT: Final = N_(
    "“{found}” is no height here: write centimetres from {low} to {high}, "
    "or feet and inches such as 5'9\"."
)
BAD_RATING: Final = N_("“{found}” is no rating: write 1, 2, 3, 4 or 5, or leave it empty.")
BAD_AVAILABILITY: Final = N_(
    "“{found}” is not known here: write available, limited or out. No diagnosis, please."
)
BAD_POSITION: Final = N_(
    "“{found}” is no position known here: write a number from 1 to 5, or {known}."
)


def _of_feet(match: re.Match[str]) -> int | None:
    feet, inches = int(match[1]), float((match[2] or "0").replace(",", "."))
    return round(feet * 30.48 + inches * 2.54) if inches < 12 else None


# Spaces are taken out before a pattern looks: two runs of them in one pattern, or one that may
# begin anywhere, cost the square of their length. "5-9" is how boards and score sheets of the
# United States print five feet nine (common practice).
_HEIGHTS: Final[tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], int | None]], ...]] = (
    (re.compile(r"([0-9]{1,4})(?:cm)?"), lambda match: int(match[1])),
    (
        re.compile(r"([12])[.,]([0-9]{1,2})m?"),
        lambda match: int(match[1]) * 100 + int(match[2].ljust(2, "0")),
    ),
    (
        re.compile(
            r"""([3-7])(?:'|’|′|ft|feet)([0-9]{1,2}(?:[.,]5)?)?(?:"|”|″|''|’’|in|inches)?"""
        ),
        _of_feet,
    ),
    (re.compile(r"([3-7])-([0-9]{1,2})"), _of_feet),
)
_SPLIT: Final = re.compile(r"[/|,;+&]")
_WITHIN: Final = re.compile(r"[-–\s]")  # parts what is no word as a whole: "ala-pívot" is one


class BadCellError(ValueError):
    """A cell that cannot be taken as it stands; the message is a whole sentence."""

    def __init__(self, code: str, said: str) -> None:
        super().__init__(said)
        self.code = code


def plain(words: str) -> str:
    """Words for comparing: lower case, no accents, only letters, digits and #.

    Only the first ``LONGEST_CELL`` letters count: putting thousands of accents on one letter
    into their order costs the square of their number.
    """
    bare = unicodedata.normalize("NFKD", words[:LONGEST_CELL].casefold())
    return "".join(letter for letter in bare if letter.isalnum() or letter == "#")


def _lookup(words: Mapping[Meant, str]) -> dict[str, Meant]:
    return {plain(word): key for key, listed in words.items() for word in listed.split(",")}


_COLUMN_OF: Final = {plain(c): c for c in COLUMNS} | _lookup(_OTHER_NAMES)
_AVAILABILITY_OF: Final = _lookup(_AVAILABILITY_WORDS)
_POSITIONS_OF: Final[Mapping[str, tuple[str, ...]]] = {
    **{word: (position,) for word, position in _lookup(_POSITION_WORDS).items()},
    **_lookup(_WIDE_POSITIONS),
}


def column_of(heading: str) -> str | None:
    """The column that a heading means, or None."""
    return _COLUMN_OF.get(plain(heading))


def of_bearable_length(found: str, language: Language) -> str:
    """The cell itself. Raises BadCellError for one that is longer than any cell of a roster."""
    if len(found) > LONGEST_CELL:
        said = language.say(LONG_CELL, found=len(found), most=LONGEST_CELL)
        raise BadCellError("long_cell", said)
    return found


def name_in(found: str, language: Language) -> str:
    """A name or nickname, in Unicode's composed form, with single spaces."""
    if any(unicodedata.category(letter).startswith("C") for letter in found):
        raise BadCellError("strange_name", language.say(STRANGE_NAME))
    name = " ".join(unicodedata.normalize("NFC", found).split())
    if not name:
        raise BadCellError("empty_name", language.say(EMPTY_NAME))
    if len(name) > LONGEST_NAME:
        raise BadCellError("long_name", language.say(LONG_NAME, most=LONGEST_NAME))
    return name


def number_in(found: str, language: Language) -> str:
    """A shirt number as text, since 0 and 00 are two numbers."""
    if not found:
        raise BadCellError("no_number", language.say(NO_NUMBER))
    if not re.fullmatch(r"00|0|[1-9][0-9]?", found):
        raise BadCellError("bad_number", language.say(BAD_NUMBER, found=found))
    return found


def height_in(found: str, language: Language) -> int | None:
    """A height in whole centimetres, written in centimetres, in metres, or in feet and inches.

    A foot is 30.48 cm and an inch 2.54 cm exactly (international yard and pound agreement, 1959).
    """
    if not found:
        return None
    low, high = HEIGHTS_CM
    bare = "".join(found.split()).casefold()
    for pattern, centimetres in _HEIGHTS:
        if match := pattern.fullmatch(bare):
            height = centimetres(match)
            if height is not None and low <= height <= high:
                return height
    raise BadCellError("bad_height", language.say(BAD_HEIGHT, found=found, low=low, high=high))


def rating_in(found: str, language: Language) -> int | None:
    """A rating, 1 to 5, or None where it is empty."""
    if not found:
        return None
    if found not in {"1", "2", "3", "4", "5"}:
        raise BadCellError("bad_rating", language.say(BAD_RATING, found=found))
    return int(found)


def availability_in(found: str, language: Language) -> Availability:
    """Available where it is empty."""
    if not found:
        return Availability.AVAILABLE
    known = _AVAILABILITY_OF.get(plain(found))
    if known is None:
        raise BadCellError("bad_availability", language.say(BAD_AVAILABILITY, found=found))
    return Availability(known)


def positions_in(found: str, language: Language) -> tuple[str, ...]:
    """Usual positions, "1" to "5", in the order written: "PG/2" is 1, 2, and so is "G"."""
    positions: list[str] = []
    for word in filter(None, map(str.strip, _SPLIT.split(found))):
        known = _positions_of(word)
        if not known:
            choice = language.any_of(list(POSITION_LETTERS.values()))
            raise BadCellError("bad_position", language.say(BAD_POSITION, found=word, known=choice))
        positions += known
    return tuple(dict.fromkeys(positions))


def _positions_of(word: str) -> tuple[str, ...]:
    """What a word says, or several with gaps or dashes between them; none where one is unknown."""
    if whole := _POSITIONS_OF.get(plain(word)):
        return whole
    parts = [_POSITIONS_OF.get(plain(each), ()) for each in _WITHIN.split(word) if each]
    return tuple(position for part in parts for position in part) if all(parts) else ()
