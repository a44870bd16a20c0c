"""Which words of a sentence belong to which number: objects and dimensions are shared out among the numbers.

What is measured, and how it is named, is the record contract's (section 3); sentences are worded for these tests.
"""

from __future__ import annotations

import pytest

from .reading import drafts, facts, measured


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # words after the number
        ("The meniscus tear was fifteen millimeters long.", [("tear.length", 15)]),
        ("The meniscal defect was nine millimeters wide.", [("defect.width", 9)]),
        # words before the number
        ("Length of the meniscus tear, fifteen millimeters.", [("tear.length", 15)]),
        ("The meniscal defect, along the rim, is twenty two millimeters.", [("defect.ap_length", 22)]),
        # two numbers, each with its own words after it
        (
            "The meniscal defect was twenty two millimeters long and nine millimeters wide.",
            [("defect.ap_length", 22), ("defect.width", 9)],
        ),
        # two numbers, each with its own words before it
        (
            "Meniscal defect: length twenty two millimeters, width nine millimeters.",
            [("defect.ap_length", 22), ("defect.width", 9)],
        ),
        # three in a row, the last with a distance
        (
            "The meniscal defect measured 22 mm along the rim, 9 mm from rim to free edge, and 14 mm from the posterior"
            " root.",
            [("defect.ap_length", 22), ("defect.root_distance", 14), ("defect.width", 9)],
        ),
        # two different things in one sentence
        (
            "A two millimeter rim of meniscus was kept, and the defect was eighteen millimeters long.",
            [("defect.ap_length", 18), ("rim.width", 2)],
        ),
        (
            "The meniscus tear was twelve millimeters long and three millimeters from the capsule.",
            [("tear.length", 12), ("tear.rim_distance", 3)],
        ),
        # both roots
        (
            "The meniscal defect is eleven millimeters from the posterior root and seventeen from the anterior root.",
            [("defect.anterior_root_distance", 17), ("defect.root_distance", 11)],
        ),
        # the thing behind the number
        ("Through a three centimeter incision the meniscus graft was passed.", [("incision.length", 30)]),
        # the thing in the sentence before
        ("There is a defect of the meniscus. It is sixteen millimeters along the rim.", [("defect.ap_length", 16)]),
        # a question and its answer
        ("How long is the meniscal defect? Nineteen millimeters.", [("defect.ap_length", 19)]),
    ],
)
def test_words_belong_to_their_number(text: str, expected: list[tuple[str, float]]) -> None:
    assert measured(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "The meniscal defect measured 21 mm along the rim and 9 mm from rim to free edge.",
        "The meniscal defect measured 9 mm from rim to free edge and 21 mm along the rim.",
        "Along the rim the meniscal defect measured 21 mm, from rim to free edge 9 mm.",
        "Meniscal defect: 21 mm along the rim. 9 mm from rim to free edge.",
    ],
)
def test_the_order_told_does_not_matter(text: str) -> None:
    assert measured(text) == [("defect.ap_length", 21), ("defect.width", 9)]


@pytest.mark.parametrize(
    "text",
    [
        "Left knee. A 12 x 8 mm chondral lesion of the trochlea was seen.",
        "Knee. The chondral lesion of the trochlea was 1.2 cm by 0.8 cm.",
    ],
)
def test_a_product_is_length_then_width(text: str) -> None:
    """Contract, section 8, rule 5."""
    assert measured(text) == [("lesion.length", 12), ("lesion.width", 8)]


def test_a_list_shares_its_unit() -> None:
    """Contract, section 8, rule 4: a unit said once holds for the rest."""
    text = "The meniscal defect was twenty one along the rim and nine millimeters from rim to free edge."
    assert measured(text, "unit") == [("defect.ap_length", 21, "mm"), ("defect.width", 9, "mm")]


def test_evidence_holds_the_number_first_and_what_it_rests_on() -> None:
    text = "The meniscus tear was fifteen millimeters long and four millimeters from the capsule."
    length, distance = drafts(text, "measurements")
    assert [text[s.start : s.end] for s in length.spans] == ["fifteen millimeters", "long", "tear"]
    assert [text[s.start : s.end] for s in distance.spans][:2] == ["four millimeters", "from the capsule"]


def test_numbers_of_another_kind_want_no_meaning() -> None:
    """Sizes of suture, identifiers, dates and counts are no measurements."""
    text = "On June third the meniscus was repaired with two 2-0 sutures, tissue ID 44-A-10, and two portals."
    assert not facts(text, "measurements")


LED = (
    "Length of the {of} 17 millimeters width 10 millimeters.",
    "The length of the {of} was 17 millimeters in the width of 10 millimeters.",
    "Length of the {of} is 17 width is 10 millimeters.",
    # 'width' heard for 'with', where a length was told before
    "Length of the {of} 17 millimeters with 10 millimeters.",
    "The {of} measured a length of 17 millimeters wit 10 millimeters.",
)


@pytest.mark.parametrize("of", ["meniscal defect", "meniscal graft"])
@pytest.mark.parametrize("told", LED)
def test_a_length_led_in_by_its_name_keeps_it_where_no_pause_parts_it_from_the_width(told: str, of: str) -> None:
    what = of.rpartition(" ")[2]
    assert measured(told.format(of=of)) == [(f"{what}.ap_length", 17), (f"{what}.width", 10)]


@pytest.mark.parametrize("told", ["with 8 millimeter bone plugs", "with 2 millimeters of overlap"])
def test_with_is_no_width_where_something_else_is_measured(told: str) -> None:
    assert ("graft.width", 8) not in measured(f"The meniscal graft had a length of 20 millimeters {told}.")
