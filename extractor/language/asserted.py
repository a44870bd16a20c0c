"""What a clause can assert, and which lists hold what a clause is about."""

from __future__ import annotations

from extractor.language.values import value

CONTENT = frozenset({"action", "thing", "device", "technique", "operation", "structure"})
USED = frozenset({"graft-source", "device", "operation", "technique"})
"""What an operation is told to have been done with: '... in 2017, | with a hamstring graft from the same leg'."""
OTHERWISE = frozenset({"now", "side", "finding"})
"""... and what parts it from the operation told of before."""
REASONS = frozenset({"because", "since"})
"""What opens with one of these says why, and denies nothing: 'draped free, | because we did not know yet'."""


@value(frozen=True, slots=True)
class Assertion:
    """How a clause is meant. `negated` is the whole clause's; `ahead` negates what stands after that token."""

    mood: str = "performed"
    negated: bool = False
    ahead: int | None = None
    cue: int | None = None

    def declines(self, token: int) -> bool:
        """Whether what stands at a token is said not to be."""
        return self.negated or (self.ahead is not None and token > self.ahead)

    @property
    def done(self) -> bool:
        """Whether the clause as a whole says that a thing is or was so."""
        return self.mood == "performed" and not self.negated and self.ahead is None
