"""Two sides said in one note: the other knee is named in a hundred ways, and only work on it makes it a second side.

The sentences are the project's own; that surgeons speak so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import side_of

NOT_WORKED_ON = (
    "The {} leg hangs free over the end of the table.", "{} leg straight, heel on a gel pad.",
    "Old scar over the {} knee.", "The {} knee's MRI is still pending.", "The {} knee will follow in three months.",
    "He kicks with the {} leg.", "Lachman like the {} knee.", "The {} knee stays as it is.",
    "Known gout of the {} knee.", "Prior {} knee arthroscopy by an outside surgeon.", "The {} one is already done.",
    "This is the patient whose {} knee we fixed in spring.", "The list had {} knee by mistake.",
    "Last year the {}, today this one.", "Next case is a {} knee.", "The {} lower extremity was protected with foam.",
)  # fmt: skip
WORKED_ON = (
    "The {} knee was prepped and draped.", "Tourniquet on the {} thigh.", "Time-out confirmed the {} knee.",
    "The time-out was called for the {} knee.", "The scope was put into the {} knee.", "So this is the {} knee.",
    "Postoperative diagnosis: {} medial meniscus tear.", "The {} medial meniscus was rasped.",
    "Sterile dressings were put on the {} knee.", "The {} knee was injected with local at the end.",
    "I had signed the {} knee.", "Her {} knee was scoped today.", "So this {} knee has a bucket handle.",
)  # fmt: skip
TOLD = (
    "Medial meniscus repair {}.", "Time-out done, {} confirmed.", "Last year the {other}, today the {} knee.",
    "{other} knee arthroscopy. No wait, it's the {} knee.", "It was booked as a {other} knee but it is the {} knee.",
    "Medial meniscus repair on the {other}, actually on the {} knee.",
    "{} knee, same operation as on the {other} two years ago.",
)  # fmt: skip
BOTH = [("left", "right"), ("right", "left")]
REST = "Portals made. The medial meniscus is torn and was repaired. {} Closed."


def opened(said: str) -> str:
    return said[0].upper() + said[1:]


@pytest.mark.parametrize(("side", "other"), BOTH)
@pytest.mark.parametrize("said", NOT_WORKED_ON)
def test_a_knee_only_named_is_no_second_side(said: str, side: str, other: str) -> None:
    assert side_of(f"{opened(side)} knee arthroscopy. {REST.format(opened(said.format(other)))}") == [side]


@pytest.mark.parametrize(("side", "other"), BOTH)
@pytest.mark.parametrize("said", WORKED_ON)
def test_a_knee_worked_on_is(said: str, side: str, other: str) -> None:
    assert side_of(f"{opened(side)} knee arthroscopy. {REST.format(opened(said.format(other)))}") == ["left", "right"]


@pytest.mark.parametrize(("side", "other"), BOTH)
@pytest.mark.parametrize("said", TOLD)
def test_the_side_that_holds(said: str, side: str, other: str) -> None:
    assert side_of(f"{opened(said.format(side, other=other))} {REST.format('')}") == [side]
