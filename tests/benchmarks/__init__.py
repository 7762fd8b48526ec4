"""Speed, measured beside what it is compared with; nothing here is a test."""
