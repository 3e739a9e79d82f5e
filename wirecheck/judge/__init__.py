"""What rules ask of a board: a question a file, and each question is answered once."""
