"""Tests of the rules."""
