"""Physics of heat in food, and the arithmetic of killing by heat; nothing here judges anything.

Every function says its source, the range in which it is valid, and its units. Outside the range it
raises `OutOfRangeError`. Temperatures are in °C and all else in SI units unless a name says other.
"""
