"""Print the commands of the README's `sh` blocks, one a line, for the CI run to execute."""

import re
from pathlib import Path

text = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
for block in re.findall(r"^```sh\n(.*?)^```", text, flags=re.DOTALL | re.MULTILINE):
    print(block.replace("\\\n", " ").strip())
