"""Plan how to cut and tear dress from flat cloth: read a case, draft, solve, check, draw."""

__version__ = "0.1.0"
