"""`python -m marker`: the command line, where its own name is not on the path."""

from __future__ import annotations

from marker.cli import main

if __name__ == "__main__":
    main()
