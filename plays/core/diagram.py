"""Diagrams of a play: one picture for each phase and counter, the whole play, the legend.

A ``Picture`` goes to a file through ``shared.core.svg``, ``png`` or ``pdf``::

    picture = diagram(play, "entry", emphasis="5", names={"5": "Ida"}, label="both")
    write_svg(picture, response, prefix="entry-5")
"""

from plays.core.diagram_inks import Scheme
from plays.core.diagram_legend import legend
from plays.core.diagram_overview import overview
from plays.core.diagram_phase import WIDTH, diagram
from plays.core.diagram_scene import LabelKind

__all__ = ["WIDTH", "LabelKind", "Scheme", "diagram", "legend", "overview"]
