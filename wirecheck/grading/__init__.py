"""Grading: what an exercise hands out and asks, and what a student's work is worth by it."""
