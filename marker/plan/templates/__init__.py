"""Full-size templates of curved pieces, and the dotted strip for rows of gauging."""

MOST_PAGES = 60
"""So many pages are the most that one piece is taped from, unless more are asked for."""
