"""The order of work as the sheet sets it: every step with a box to tick."""
