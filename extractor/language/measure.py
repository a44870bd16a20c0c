"""One number as said, with what belongs to it: the value passed between the steps of the number reader."""

from __future__ import annotations

from extractor.language.units import Unit
from extractor.language.values import value

QUANTITY = "quantity"
"""The sort of a plain number, with or without a unit."""


@value(frozen=True, slots=True)
class Measure:
    """One number as said with what belongs to it; values in the unit said.

    Attributes:
        start: first token, of a hedge or bound too.
        end: token after the last.
        number_start: first token of the number itself.
        number_end: token after the number itself.
        value: None for a range, a bound or an identifier.
        low: low end of a range, or "at least".
        high: high end of a range, or "at most".
        unit: as said, None for a bare number.
        figures: written in figures.
        about: said to be about right.
        maybe: opened by "maybe", so that it may be the other end of a hedge.
        sort: "quantity" or another kind of the Quantity.
        text: suture size or identifier.
        twice: said twice for safety.
        rivals: other values.
        earlier: (value, unit) corrected.
        pronoun: "one" that is no number.
        inherited: unit taken over from a neighbor.
        counted: values counted along the way to this one.
        article: "a millimeter", with no number word.
        from_word: "between" or "from" stands before.
        put_right: where a value put right later was said, in the tokens `[start, end)`.
    """

    start: int
    end: int
    number_start: int
    number_end: int
    value: float | None
    low: float | None = None
    high: float | None = None
    unit: Unit | None = None
    figures: bool = False
    about: bool = False
    maybe: bool = False
    sort: str = QUANTITY
    text: str = ""
    twice: bool = False
    rivals: tuple[float, ...] = ()
    earlier: tuple[tuple[float, Unit | None], ...] = ()
    pronoun: bool = False
    inherited: bool = False
    counted: tuple[float, ...] = ()
    article: bool = False
    from_word: bool = False
    put_right: tuple[int, int] | None = None

    @property
    def bare(self) -> bool:
        """A plain number with no unit."""
        return self.unit is None and self.sort == QUANTITY and not self.pronoun

    @property
    def single(self) -> bool:
        """One value, neither range nor bound."""
        return self.value is not None
