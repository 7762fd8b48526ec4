"""Sealed archives: made, verified, tampered with, and packed by strangers."""
