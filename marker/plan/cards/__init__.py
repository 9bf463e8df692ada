"""Piece cards: every different piece drawn with its measures and marks, and the words to it."""
