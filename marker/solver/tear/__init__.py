"""Lays for tearing: rows of bands, each parted from edge to edge until its pieces are free."""
