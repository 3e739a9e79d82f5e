"""Which of the problems that the rules see is reported, and which only follows from another."""
