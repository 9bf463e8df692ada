"""Lays that keep what cloth and pieces ask: repeats, flaws, selvedges, a remnant's end."""
