"""The plan of the pleats: its words, its figures, and what the terminal and the page show of it."""
