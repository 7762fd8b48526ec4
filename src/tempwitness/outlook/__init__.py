"""What is due now and next: drawn from an evaluation and its log, without judging anything anew."""

from tempwitness.outlook.changes import Change, Kind, changes
from tempwitness.outlook.known import known_at
from tempwitness.outlook.standing import status

__all__ = ["Change", "Kind", "changes", "known_at", "status"]
