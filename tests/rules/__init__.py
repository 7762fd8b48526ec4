"""Tests of the rule files and of what reads them."""
