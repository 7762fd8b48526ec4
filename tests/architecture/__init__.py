"""Checks of the source itself: sizes, directions, words, and what a start loads."""
