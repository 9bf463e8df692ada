"""What print says of a lay: steps, sums, sizes, names."""
