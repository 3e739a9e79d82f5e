"""A file could not be checked to its end.

It took more time or more memory than it was given, or the check itself failed. Nothing is known of
its board then: this is never a pass. The other files are checked all the same.

Source: the limits that the command was given
"""

from __future__ import annotations

from wirecheck.judge.rule import manual

# It is about the file and its check. No board breaks it or keeps it, so it is none of the rules.
MANUAL = manual(__name__, "rough-in", "trim", "final", severities=("fault",))
