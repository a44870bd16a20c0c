"""Words that nobody said: a recognizer given noise, music or silence invents some, and they must not become a record.

Voice activity detection leaves most non-speech out before recognition. What gets past it shows in the recognizer's own
figures, judged here a segment at a time. The thresholds on no-speech probability, mean log probability and compression
ratio are those of Whisper's authors (Radford et al. 2022, arXiv 2212.04356, section 4.5).
"""

from __future__ import annotations

import re

from faster_whisper.transcribe import Segment

NO_SPEECH = 0.6
LOG_PROBABILITY = -1.0
COMPRESSION = 2.4
SURE_WORD = 0.5
FILLERS = frozenset(
    (
        "thank you", "thank you very much", "thanks for watching", "thank you for watching", "you", "bye", "bye bye",
        "please subscribe", "subtitles by", "the end", "so", "okay", "oh", "hmm", "music", "applause", "silence",
    )
)  # fmt: skip
"""What Whisper says when nothing is said (known from its users' reports; list from memory)."""


def is_speech(segment: Segment) -> bool:
    """Whether a recognized segment is to be believed as something said."""
    text = " ".join(re.findall(r"[a-z0-9']+", segment.text.lower()))
    if not text:
        return False
    if segment.no_speech_prob > NO_SPEECH and segment.avg_logprob < LOG_PROBABILITY:
        return False
    words = segment.words or []
    surest = max((word.probability for word in words), default=0.0)
    if text in FILLERS and (segment.no_speech_prob > 0.3 or segment.avg_logprob < -0.7 or surest < SURE_WORD):
        return False
    return not (segment.avg_logprob < LOG_PROBABILITY and surest < SURE_WORD)
