"""Numbers put right later than side by side. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.language.quantities import read_quantities
from extractor.language.tokens import tokenize


def read(text: str) -> list[tuple[float | None, tuple[float, ...]]]:
    return [(q.value, q.earlier) for q in read_quantities(tokenize(text).words)]


@pytest.mark.parametrize(
    "text",
    [
        "It is nine millimeters long. The nine is nonsense, write seven.",
        "It is nine millimeters long. Change the nine into a seven.",
        "It is nine millimeters long. The nine should be a seven.",
        "It is nine millimeters long. Nine is a slip of the tongue, seven is right.",
        "It is nine millimeters. Ah, the ruler had slipped. Seven millimeters.",
        "It is nine millimeters, I misread it, it reads seven millimeters.",
        "It is nine millimeters. Seven, pardon me.",
        "It is nine millimeters. Seven millimeters, I beg your pardon.",
        "It is nine millimeters at first sight, seven when it lay flat.",
        "It is nine millimeters, or so I thought; with the hook straight it is seven.",
        "It is not nine millimeters as I said in the room but seven.",
        "Do not write nine millimeters. It is seven.",
        "It is nine millimeters. Strike the nine, seven millimeters.",
        "It is nine millimeters, I was reading the wrong card, seven millimeters.",
        "The length that I gave as nine millimeters should read seven.",
        "It is nine millimeters of the rim, no, I flatter myself, seven.",
        "It is nine millimeters at the back of it, no, seven millimeters.",
        "It is nine millimeters for the length, the ruler was twisted, we did it again and it was seven millimeters.",
    ],
)
def test_a_number_put_right_later(text: str) -> None:
    assert read(text) == [(7, (9,))]


@pytest.mark.parametrize(
    "text",
    [
        "It is nine millimeters long. The flap was folded. Seven millimeters of rim.",
        "It is nine millimeters. The ruler had slipped. The rim is seven millimeters.",
        "It is nine millimeters. Put seven stitches there.",
        "It is nine millimeters. The nine is right. Seven millimeters wide.",
        "It is nine millimeters. Seven millimeters, sorry, six millimeters.",
        "It is not nine millimeters. The rim but not the horn is seven millimeters.",
        "It is nine millimeters long at first sight. The width is seven millimeters.",
        "It is nine millimeters, no, that is the width of it, seven stitches.",
        "It is nine millimeters, no, much less I think, two millimeters.",
        "It is nine millimeters, no gap, seven millimeters wide.",
    ],
)
def test_another_number_puts_nothing_right(text: str) -> None:
    assert read(text)[0] == (9, ())


def test_one_part_of_a_product_is_put_right() -> None:
    assert read("Twelve by ten millimeters. The ten is rubbish, put an eight there.") == [(12, ()), (8, (10,))]


def test_where_the_right_number_was_said_is_kept() -> None:
    words = tokenize("It is nine millimeters long. The nine is nonsense, write seven.").words
    (quantity,) = read_quantities(words)
    assert quantity.put_right is not None
    assert words[slice(*quantity.put_right)] == ["seven"]
