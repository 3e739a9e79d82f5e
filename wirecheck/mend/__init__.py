"""Edits of a board's text as data, and the fewest of them after which nothing is found."""
