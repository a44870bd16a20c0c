"""Words that nobody said: a recognizer given noise, music or silence invents some, and they must not become a record.

Voice activity detection leaves most non-speech out before recognition. What gets past it shows in the recognizer's own
figures and in the impossible speed of the words. The thresholds on no-speech probability and mean log
probability are those of Whisper's authors (Radford et al. 2022, arXiv 2212.04356, section 4.5). No-speech
probability is never taken alone: with hotwords given it goes up to 0.94 on plain speech.
"""

from __future__ import annotations

import re

from faster_whisper.transcribe import Segment

from extractor.speech.audio import RATE
from extractor.speech.voice import Window

NO_SPEECH = 0.6
LOG_PROBABILITY = -1.0
LONGEST_PHRASE = 12
TIMES_SAID = 4
"""A phrase of up to this many words said so many times on end is a loop."""
SURE_WORD = 0.5
FASTEST = 30.0
"""Letters a second nobody speaks (an auctioneer reaches some 25: from memory, no source)."""
LONGEST_WORD_S = 1.5
"""No word of a dictation takes longer, in seconds."""
FILLERS = frozenset({"thank you", "thank you very much", "thanks for watching", "you", "bye", "bye bye", "the end"})
"""What Whisper says when nothing is said (known from reports of its users; the list is from memory)."""


def looped(segment: Segment) -> int:
    """How many words only say a phrase over and over, as recognizers do that lost the thread; 0 where none do so.

    Whisper's own measure, the compression ratio of the text, will not do: four sutures told one by one reach it.
    """
    words = _words(segment)
    longest = 0
    for length in range(1, LONGEST_PHRASE + 1):
        same = 0
        for first, second in zip(words, words[length:], strict=False):
            same = same + 1 if first == second else 0
            if same >= length * (TIMES_SAID - 1):
                longest = max(longest, same)
    return longest


def is_speech(segment: Segment) -> bool:
    """Whether a recognized segment is to be believed as something said."""
    text = " ".join(_words(segment))
    if not text or len(text) > FASTEST * max(1.0, segment.end - segment.start):
        return False
    surest = max((word.probability for word in segment.words or ()), default=0.0)
    if text in FILLERS and (segment.no_speech_prob > NO_SPEECH or surest < SURE_WORD):
        return False
    if segment.avg_logprob < LOG_PROBABILITY:
        return segment.no_speech_prob <= NO_SPEECH and surest >= SURE_WORD
    return True


def unheard_s(segment: Segment, window: Window) -> float:
    """Longest stretch of a window that has no words in it, in seconds; its times are those of the window's sound.

    What the recognizer skips it gives to the next word, so the seconds of a word beyond what one takes count as well.
    """
    words = segment.words or ()
    ends = [window[0] / RATE, *(float(word.end) for word in words)]
    starts = [*(float(word.start) for word in words), window[1] / RATE]
    between = (start - end for end, start in zip(ends, starts, strict=True))
    within = (float(word.end) - float(word.start) - LONGEST_WORD_S for word in words)
    return max([*between, *within])


def _words(segment: Segment) -> list[str]:
    return re.findall(r"[a-z0-9']+", segment.text.lower())
