"""The gored skirt: how gores share waist and hem, how they are cut, and what is told of them."""
