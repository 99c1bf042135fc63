"""The languages of the product's own catalogues, for tests of cores."""

from __future__ import annotations

from functools import partial

from coachbook.catalogue import CATALOGUES
from shared.core.language import language as language_in

language = partial(language_in, catalogues=CATALOGUES)
