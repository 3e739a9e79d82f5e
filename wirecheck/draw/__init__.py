"""Pictures of a board: the wiring diagram, where things are."""
