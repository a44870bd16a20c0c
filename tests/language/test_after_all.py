"""What was done though it was not meant, wanted or expected, against what was not done. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar

from .test_assertion import at


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("I had not planned to have the rim rasped, yet we did.", "rasped"),
        ("A synovectomy was not on the list, but I did one.", "synovectomy"),
        ("The fellow begged to be spared a synovectomy; I overruled him and we made one.", "synovectomy"),
        ("Nobody believed the graft would be delivered, but in it went.", "delivered"),
        ("The mother refused a synovectomy at first, but it was done.", "synovectomy"),
        ("I can't say the rim was gladly rasped, but rasped it is.", "gladly"),
        ("There was no way around having the rim rasped.", "rasped"),
        ("There was no choice but to have the rim rasped.", "rasped"),
        ("It could not have been rasped more thoroughly.", "rasped"),
        ("Nobody can accuse me of not having rasped the rim.", "rasped"),
        ("Without having rasped the rim there would be no healing.", "rasped"),
        ("It would be a lie to say the rim was not rasped.", "rasped"),
        ("Didn't we have the rim rasped? We did.", "rasped"),
        ("The rim was rasped, was it not? Of course it was.", "rasped"),
    ],
)
def test_done_after_all(text: str, word: str, grammar: Grammar) -> None:
    assertion, token = at(text, word, grammar)
    assert assertion.mood == "performed"
    assert not assertion.declines(token)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("I had not planned to have the rim rasped, and it was fine.", "rasped"),
        ("We had planned a synovectomy. It was not needed, so that was that.", "synovectomy"),
        ("The rim was not rasped. It is in.", "rasped"),
        ("The fellow wanted a second synovectomy; I made one.", "synovectomy"),
        ("We did not want the rim rasped, but it had been smooth.", "rasped"),
        ("Without a synovectomy you would see nothing.", "synovectomy"),
        ("Nobody leaves without the rim being rasped.", "rasped"),
        ("Synovectomy? What for, with a lining so thin.", "synovectomy"),
        ("Synovectomy? The lining is pink and thin.", "synovectomy"),
        ("Synovectomy? With a lining so thin it would be a crime.", "synovectomy"),
        ("Do we need a synovectomy, asks the fellow. No, says the scope.", "synovectomy"),
    ],
)
def test_not_done_for_all_that(text: str, word: str, grammar: Grammar) -> None:
    assertion, token = at(text, word, grammar)
    assert assertion.mood != "performed" or assertion.declines(token)


@pytest.mark.parametrize(
    "text",
    [
        "Synovectomy? In front, with the shaver.",
        "Synovectomy? Of course.",
        "Synovectomy? Both gutters were cleared, yes.",
    ],
)
def test_an_answer_that_tells_how_it_was_done(text: str, grammar: Grammar) -> None:
    assertion, token = at(text, "synovectomy", grammar)
    assert assertion.mood == "performed"
    assert not assertion.declines(token)
