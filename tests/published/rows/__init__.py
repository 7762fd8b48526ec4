"""Published figures, typed a second time, and how they are joined with the rule files.

``<region>.csv`` holds every number of every published row, typed from the texts without looking
at the rule files. ``encoded_<region>.csv``, written with the rule files, says which requirements
hold a row, or why it was left out. The modules beside them join the two.
"""
