"""Records written from answers: their text, their lines, their files, and the command."""
