"""The command line as a person and as a script meet it."""
