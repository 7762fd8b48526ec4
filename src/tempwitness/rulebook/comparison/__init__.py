"""Codes set beside each other, from rule files as they are written; nothing heavy is imported."""
