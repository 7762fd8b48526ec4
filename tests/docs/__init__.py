"""Reference pages drawn from the code, and checks of everything else that is written."""
