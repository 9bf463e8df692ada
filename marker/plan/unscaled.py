"""Ask programs that print a PDF not to scale it to the paper."""

from __future__ import annotations

import re

_CATALOG = re.compile(rb"(?<=\n)(\d+) 0 obj\n(<</Type/Catalog.*?)\nendobj", re.DOTALL)
_TRAILER = re.compile(rb"\ntrailer\n(<<.*>>)\nstartxref\n(\d+)\n%%EOF\s*$", re.DOTALL)
_WISHES = b"/ViewerPreferences<<"


def unscaled(pdf: bytes) -> bytes:
    """The same PDF with the wish that it be printed at 100 %, which most print programs heed.

    The catalog is given anew at the end of the file with PrintScaling set to None (ISO 32000-1,
    12.2 and 7.5.6, from memory); all else stays byte for byte. A PDF that is laid out in a way
    not known here comes back as it is: its pages say how they are to be printed anyhow.
    """
    catalogs, trailer = _CATALOG.findall(pdf), _TRAILER.search(pdf)
    if len(catalogs) != 1 or trailer is None or _WISHES not in catalogs[0][1]:
        return pdf
    number, known = catalogs[0]
    wanted = known.replace(_WISHES, _WISHES + b"/PrintScaling/None", 1)
    whole = pdf.rstrip() + b"\n"
    catalog = b"%s 0 obj\n%s\nendobj\n" % (number, wanted)
    table = b"xref\n%s 1\n%010d 00000 n \n" % (number, len(whole))
    ends = trailer[1][:-2] + b"/Prev %s>>" % trailer[2]
    start = len(whole) + len(catalog)
    return whole + catalog + table + b"trailer\n%s\nstartxref\n%d\n%%%%EOF\n" % (ends, start)
