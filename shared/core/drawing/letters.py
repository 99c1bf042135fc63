"""Which letters the small faces hold: what ``coachbook.faces`` cuts them down to."""

from __future__ import annotations

from typing import Final

SELDOM: Final = frozenset("#$*<=>@\\^_`{|}~")
COMMON: Final = frozenset(
    {chr(code) for code in range(0x20, 0x7F)} - SELDOM | set("áéíóúüñÁÉÍÓÚÜÑ¿¡ºª“”‘’…–·×‹›")
)
NAMES: Final = frozenset(
    "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõöøùúûüýþÿĀāĂăĄąĆćĊċČčĎďĐđĒēĖėĘęĚěĞğĠġĢģ"
    "ĦħĪīĮįİıĶķĹĺĻļĽľŁłŃńŅņŇňŌōŐőŒœŔŕŘřŚśŞşŠšŢţŤťŪūŮůŰűŲųŸŹźŻżŽžȘșȚț"
)
"""The letters of names in the languages of Europe that write with Latin ones."""
MARKS: Final = frozenset(" 0123456789Lookpción")
"""The numbers of roles and looks: all that the small pictures of the library write."""
