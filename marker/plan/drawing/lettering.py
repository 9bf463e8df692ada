"""Lettering: how much room words take, and words made fit to be set.

Which font a viewer falls back to is not ours to choose, so every width here is an upper
bound over Source Sans Pro, Liberation Sans (which has the widths of Arial and Helvetica)
and DejaVu Sans. Advances are in 1/1000 of the type size, measured from the `hmtx` tables
of Source Sans Pro 2.020, Liberation Sans 1.07.4 and DejaVu Sans 2.37, each rounded up.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

REGULAR = (
    (167, "\u2044"),
    (249, "′"),
    (275, "'"),
    (278, "ijlìíîïĩīĭįıĵĺļ"),
    (285, "ł"),
    (295, "IÌÍÎÏĨĪĬĮİ"),
    (318, " ,.\xa0·‘’‚"),
    (337, ":;|¦"),
    (350, "/\\"),
    (353, "fſ"),
    (361, "-"),
    (362, "ŀ"),
    (375, "ľ"),
    (391, "()[]"),
    (393, "tţťŧ"),
    (401, "!¡²³¹⁰⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉"),
    (412, "rŕŗř"),
    (426, "″"),
    (460, '"'),
    (472, "ªº"),
    (500, "*J°Ĵ"),
    (519, "“”„"),
    (521, "sśŝşš"),
    (525, "zźżž"),
    (542, "`¨´¸"),
    (550, "cçćĉċč"),
    (553, "¯"),
    (556, "ĳ"),
    (557, "?_§–"),
    (558, "LĹĻĽĿ"),
    (563, "Ł"),
    (580, "kķĸ"),
    (592, "vxyýÿŷ"),
    (611, "FT¿ŢŤŦ"),
    (612, "o«»ðòóôõöøōŏő"),
    (613, "aàáâãäåāăą"),
    (616, "eèéêëēĕėęě"),
    (630, "ß"),
    (634, "hnuñùúûüĥńņňŋũūŭůűų"),
    (635, "bdgpqþďđĝğġģ"),
    (637, "$0123456789{}¢£¤¥µ¶€"),
    (667, "EKPSYÈÉÊËÝÞĒĔĖĘĚĶŚŜŞŠŶŸ"),
    (685, "AVÀÁÂÃÄÅĀĂĄ"),
    (686, "XZŹŻŽ"),
    (687, "B"),
    (695, "ħ"),
    (723, "CRÇĆĈĊČŔŖŘ"),
    (732, "UÙÚÛÜŨŪŬŮŰŲ"),
    (735, "Ĳ"),
    (749, "NÑŃŅŇŊ"),
    (752, "HĤ"),
    (771, "DĎ"),
    (775, "ÐĐ"),
    (778, "GĜĞĠĢ"),
    (780, "&"),
    (788, "OQÒÓÔÕÖØŌŎŐ"),
    (814, "ŉ"),
    (818, "wŵ"),
    (838, "#+<=>^~¬±×÷↑↓≤≥−"),
    (863, "M"),
    (917, "Ħ"),
    (951, "%"),
    (970, "¼½¾⅛⅜⅝⅞⅓⅔"),
    (975, "m"),
    (982, "æ"),
    (989, "WŴ"),
    (1000, "©®Æ—…→←"),
    (1016, "@"),
    (1023, "œ"),
    (1070, "Œ"),
    (1073, "№"),
)

BOLD = (
    (167, "\u2044"),
    (300, "′"),
    (307, "'"),
    (343, "ijlìíîïĩīĭįıĵĺļ"),
    (349, " \xa0"),
    (366, "/\\|¦"),
    (372, "ł"),
    (373, "IÌÍÎÏĨĪĬĮİ"),
    (380, ",.·‘’‚"),
    (400, ":;"),
    (416, "-"),
    (436, "fſ"),
    (438, "²³¹⁰⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉"),
    (457, "!¡"),
    (458, "()[]"),
    (479, "tţŧ"),
    (480, "ľť"),
    (494, "rŕŗř"),
    (500, "°"),
    (523, "*"),
    (536, '"'),
    (537, "″"),
    (555, "`¨¯´¸"),
    (557, "J_§Ĵŀ–"),
    (564, "ªº"),
    (583, "zźżž"),
    (593, "cçćĉċč"),
    (596, "sśŝşš"),
    (611, "?¿"),
    (637, "¤¶"),
    (638, "LĹĻĽĿ"),
    (643, "Ł"),
    (646, "x«»"),
    (652, "vyýÿŷ"),
    (658, "“”„"),
    (666, "kķĸ"),
    (675, "aàáâãäåāăą"),
    (679, "eèéêëēĕėęě"),
    (683, "TŢŤŦ"),
    (684, "EFÈÉÊËĒĔĖĘĚ"),
    (686, "ĳ"),
    (688, "oðòóôõöøōŏő"),
    (696, "$0123456789¢£¥€"),
    (712, "hnu{}ñùúûüĥńņňŋũūŭůűų"),
    (716, "bdgpqþđĝğġģ"),
    (719, "ď"),
    (720, "ß"),
    (721, "SŚŜŞŠ"),
    (725, "YÝŶŸ"),
    (726, "ZŹŻŽ"),
    (733, "P"),
    (734, "CÇĆĈĊČ"),
    (736, "µ"),
    (738, "Þ"),
    (763, "B"),
    (771, "RXŔŖŘ"),
    (774, "AVÀÁÂÃÄÅĀĂĄ"),
    (775, "KĶ"),
    (785, "Ĳ"),
    (791, "ħ"),
    (813, "UÙÚÛÜŨŪŬŮŰŲ"),
    (821, "GĜĞĠĢ"),
    (831, "DĎ"),
    (837, "HNÑĤŃŅŇŊ"),
    (838, "#+<=>^~¬±Ð×÷Đ↑↓≤≥−"),
    (851, "OQÒÓÔÕÖØŌŎŐ"),
    (873, "&"),
    (924, "wŵ"),
    (974, "Ħ"),
    (983, "ŉ"),
    (996, "M"),
    (1000, "@©®—…→←"),
    (1002, "%"),
    (1036, "¼½¾⅛⅜⅝⅞⅓⅔"),
    (1042, "m"),
    (1048, "æ"),
    (1085, "Æ"),
    (1095, "œ"),
    (1104, "WŴ"),
    (1167, "Œ"),
    (1204, "№"),
)

UNKNOWN = 1400
"""A letter of another script, set from a font we can't foresee: wider than any."""

ASCENT, DESCENT = 760, 250
"""Reach above and below the base line, in 1/1000 of the type size, over the same fonts."""


def _widths(table: tuple[tuple[int, str], ...]) -> dict[str, int]:
    return {letter: width for width, letters in table for letter in letters}


_REGULAR, _BOLD = _widths(REGULAR), _widths(BOLD)


def width(text: str, size: int, *, bold: bool = False) -> int:
    """The most room a line of text can take, in the unit of `size`, rounded up."""
    return -(-_advance(text, bold) * size // 1000)


@lru_cache(maxsize=16384)  # the same words are tried in many places and at many sizes
def _advance(text: str, bold: bool) -> int:
    """All advances of a line of text, in 1/1000 of the type size."""
    table = _BOLD if bold else _REGULAR
    return sum(table.get(letter, UNKNOWN) for letter in text)


def height(size: int) -> int:
    """The most that a line takes from the top of its tallest letter to the foot of its lowest."""
    return size * (ASCENT + DESCENT) // 1000


@lru_cache(maxsize=4096)
def clean(text: str) -> str:
    """Text that may be set: no control, layout or unassigned characters, single spaces.

    Marks that pile up on one letter are kept to two, as no script here needs more.
    """
    kept: list[str] = []
    for letter in unicodedata.normalize("NFC", " ".join(text.split())):
        kind = unicodedata.category(letter)
        piled = len(kept) > 1 and all(unicodedata.category(one)[0] == "M" for one in kept[-2:])
        if kind in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") or (kind[0] == "M" and piled):
            continue
        kept.append(letter)
    return " ".join("".join(kept).split())


def clip(text: str, size: int, room: int, *, bold: bool = False) -> str:
    """The text, shortened with an ellipsis where it would take more than `room`."""
    if width(text, size, bold=bold) <= room:
        return text
    while text and width(text + "…", size, bold=bold) > room:
        text = text[:-1]
    return text.rstrip() + "…" if text else ""


def wrap(text: str, size: int, room: int, *, bold: bool = False) -> tuple[str, ...]:
    """Break a sentence into lines that take at most `room`; a longer word is broken.

    Words that a no-break space joins stay on one line, if one holds them.
    """
    lines: list[str] = []
    line, taken, gap = "", 0, _advance(" ", bold)
    for word in _words(text, size, room, bold):
        own = _advance(word, bold)
        if line and (taken + gap + own) * size > 1000 * room:
            lines.append(line)
            line = ""
        line, taken = (f"{line} {word}", taken + gap + own) if line else (word, own)
        if taken * size > 1000 * room:  # a letter alone is too broad
            line = clip(line, size, room, bold=bold)
            taken = _advance(line, bold)
    return (*lines, line) if line else tuple(lines)


def _words(text: str, size: int, room: int, bold: bool) -> Iterator[str]:
    for joined in re.split(r"[^\S\xa0]+", text):
        if joined and joined.strip() == joined and width(joined, size, bold=bold) <= room:
            yield joined
        else:
            for word in joined.split():
                yield from _broken(word, size, room, bold)


def _broken(word: str, size: int, room: int, bold: bool) -> Iterator[str]:
    """A word in parts that fit, each as long as can be; no part is less than a letter."""
    while width(word, size, bold=bold) > room and len(word) > 1:
        fits, fails = 1, len(word)
        while fails - fits > 1:
            at = (fits + fails) // 2
            if width(word[:at], size, bold=bold) <= room:
                fits = at
            else:
                fails = at
        yield word[:fits]
        word = word[fits:]
    yield word
