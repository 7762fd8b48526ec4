"""Tests of plans: measured rests and coolings of others against the bands."""
