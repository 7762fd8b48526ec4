"""The second answer: what holds for every temperature history that the readings allow.

Readings within their error, and limits on how fast food can warm and cool, leave a least and a
greatest possible temperature at each moment. The same criteria are asked again about those.
"""

from __future__ import annotations
