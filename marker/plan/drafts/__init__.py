"""How shaped pieces are drafted on cloth: a figure with its readings, and the words to it."""
