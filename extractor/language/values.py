"""Small values of which a note makes hundreds: tokens' stretches, concepts, numbers.

They are frozen dataclasses to whoever reads and checks the program. At run time they are not: a frozen dataclass sets
each of its fields by a call, which costs three times as much as all the rest of making it. What freezing would tell at
run time, mypy tells beforehand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = ["value"]

if TYPE_CHECKING:
    from dataclasses import dataclass as value
else:
    from dataclasses import dataclass

    def value(*, frozen: bool, slots: bool):  # noqa: ANN201
        """Make a dataclass of values that are equal where their fields are, and never changed."""
        assert frozen, "a value never changes"
        return dataclass(slots=slots, unsafe_hash=True)
