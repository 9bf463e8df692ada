"""Case files: what is to be made, for whom, and from which cloths.

`read` takes a path, `parse` the text; both give a `Case` or raise `BadInput` with one
sentence that names the file, the key, the value and a remedy.
"""

from marker.casefile.case import Case
from marker.casefile.reader import parse, read

__all__ = ["Case", "parse", "read"]
