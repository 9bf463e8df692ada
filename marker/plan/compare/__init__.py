"""Options side by side: their words, their table on the terminal, their pages."""
