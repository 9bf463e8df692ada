"""The apron: its breadths, its band and ties, a bib and pockets."""
