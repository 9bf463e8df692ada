"""A yardage chart: its words, its table on the terminal, its page."""
