"""Runs of many: one piece for each row of a list of names, by one or more workers, going on where they were stopped."""
