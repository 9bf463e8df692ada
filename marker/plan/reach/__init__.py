"""What cloth in hand gives: its words, its table on the terminal, its pages."""
