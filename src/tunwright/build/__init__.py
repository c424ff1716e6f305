"""The build document a person writes: reading it, its units, and what is wrong with it."""
