"""The report on paper. The only room that imports reportlab."""
