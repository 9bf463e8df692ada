"""See that the source distribution makes the very wheel that the checkout makes, with all it needs.

    python .ci/packages_alike.py SOURCE SDIST WHEEL STRAIGHT

SOURCE is the checkout, WHEEL was made from SDIST, STRAIGHT from the checkout itself.
"""

from __future__ import annotations

import sys
import tarfile
import zipfile
from pathlib import Path


def files(wheel: str) -> dict[str, bytes]:
    """What a wheel installs, but for the list of its own digests."""
    with zipfile.ZipFile(wheel) as archive:
        return {name: archive.read(name) for name in archive.namelist() if not name.endswith("/")}


def main(source: str, sdist: str, wheel: str, straight: str) -> None:
    """Exit with a sentence where anything is missing or differs."""
    one, two = files(wheel), files(straight)
    if one != two:
        differ = {name for name in one.keys() | two.keys() if one.get(name) != two.get(name)}
        sys.exit(f"the wheels differ in: {', '.join(sorted(differ))}")
    package = Path(source, "marker")
    wanted = {
        str(path.relative_to(source)) for path in package.rglob("*") if path.is_file()
    }  # fmt: skip
    if missing := sorted(wanted - one.keys()):
        sys.exit(f"the wheel lacks: {', '.join(missing)}")
    if not any(name.endswith("licenses/LICENSE") for name in one):
        sys.exit("the wheel lacks the licence")
    if stray := sorted(name for name in one if not name.startswith(("marker/", "marker-"))):
        sys.exit(f"the wheel installs beside the package: {', '.join(stray)}")
    with tarfile.open(sdist) as archive:
        inside = {name.partition("/")[2] for name in archive.getnames()}
    least = {"LICENSE", "README.md", "CHANGELOG.md", "pyproject.toml", "cases/plain-skirt.toml"}
    if missing := sorted(least - inside):
        sys.exit(f"the source distribution lacks: {', '.join(missing)}")


if __name__ == "__main__":
    main(*sys.argv[1:])
