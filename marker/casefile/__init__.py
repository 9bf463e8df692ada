"""Case files: what is to be made, for whom, and from which cloths.

`read` takes a path, `parse` the text; both give a `Case` or raise `BadInput` with one
sentence that names the file, the key, the value and a remedy. `changed` reads a case anew with
some values changed.
"""

from marker.casefile.case import Case
from marker.casefile.changes import changed
from marker.casefile.reader import parse, read

__all__ = ["Case", "changed", "parse", "read"]
