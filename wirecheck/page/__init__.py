"""The board in a browser: what a page asks of a board, the answers, and the server that gives them out."""
