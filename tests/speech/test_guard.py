from __future__ import annotations

import pytest
from faster_whisper.transcribe import Segment, Word

from extractor.speech.guard import is_speech, looped, unheard_s

FOUR_SUTURES = (
    "Posterior superior is blue. Posterior inferior is white. Anterior superior is green. Anterior inferior is purple. "
    "On the graft posterior superior is blue, posterior inferior is white, anterior superior is green."
)


def segment(text: str, *, seconds: float = 10, log: float = -0.2, none: float = 0.1, sure: float = 0.9) -> Segment:
    said = text.split()
    step = seconds / max(1, len(said))
    words = [Word(start=i * step, end=(i + 1) * step, word=f" {w}", probability=sure) for i, w in enumerate(said)]
    return Segment(0, 0, 0.0, seconds, text, [], log, 1.0, none, words, 0.0)


@pytest.mark.parametrize("text", ["I'm sorry, " * 6, "neck neck neck neck", "and then I put it in, " * 5])
def test_a_phrase_over_and_over_is_a_loop(text: str) -> None:
    assert looped(segment(text))


@pytest.mark.parametrize(
    "text", [FOUR_SUTURES, "no, no, no, it is eighteen", "five, ten, fifteen, twenty", "", "Fine."]
)
def test_a_list_is_none(text: str) -> None:
    assert not looped(segment(text))


def test_the_longer_loop_counts_for_more() -> None:
    said = "posterior superior is"
    assert 0 < looped(segment(f"{said} blue, blue, blue, blue, black.")) < looped(segment(said + " blue," * 60))


def test_plain_speech_is_believed_even_where_hotwords_raise_the_no_speech_figure() -> None:
    assert is_speech(segment(FOUR_SUTURES, none=0.94))


@pytest.mark.parametrize(
    "invented",
    [
        segment("Thank you.", sure=0.3),
        segment("Thank you.", none=0.8),
        segment("The graft was cut.", log=-1.4, none=0.9),
        segment("The graft was cut.", log=-1.4, sure=0.3),
        segment("I am not going to be able to do it. " * 20, seconds=2),
        segment(" . "),
    ],
)
def test_what_nobody_said_is_not_believed(invented: Segment) -> None:
    assert not is_speech(invented)


def test_the_longest_stretch_without_words_is_found_wherever_it_lies() -> None:
    rate = 16_000
    heard = segment("one two three four", seconds=4)
    assert unheard_s(heard, (0, 4 * rate)) <= 0
    assert unheard_s(heard, (0, 20 * rate)) == pytest.approx(16)
    assert unheard_s(segment(""), (0, 20 * rate)) == pytest.approx(20)
    drawn_out = segment("one two three four", seconds=32)  # what is skipped is given to the next word
    assert unheard_s(drawn_out, (0, 32 * rate)) > 6
