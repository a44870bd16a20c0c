"""Where somebody speaks, and where a recording may be cut without cutting a word.

The detector is Silero's, as faster-whisper ships it. It goes by loudness, so a quiet recording is raised first.
"""

from __future__ import annotations

import numpy as np
from faster_whisper.vad import VadOptions, get_speech_timestamps

from extractor.speech.audio import RATE, Samples

VOICE = VadOptions(threshold=0.4, min_speech_duration_ms=200, min_silence_duration_ms=1500, speech_pad_ms=400)
PHRASES = VadOptions(threshold=0.4, min_silence_duration_ms=150, speech_pad_ms=0)
QUIET_PEAK = 0.1
"""A recording whose loudest sound is below this is raised to it."""
SILENT_PEAK = 0.001
"""Nothing louder than this is silence."""
Window = tuple[int, int]
"""First and last sample of a stretch."""
CUT_FROM = 0.7
"""A piece is cut at its longest pause (or where it is quietest) from this share of the longest length on."""


def find_voice(samples: Samples) -> list[dict[str, int]]:
    """Stretches of voice, as first ("start") and last ("end") sample of each; silences under 1.5 s stay in."""
    return _detect(samples, VOICE)


def cut_at_pauses(samples: Samples, longest_s: float) -> list[Window]:
    """Cut samples into pieces of at most `longest_s` seconds, in a pause wherever there is one.

    Returns:
        First and last sample of each piece; the pieces follow each other and cover all of it.
    """
    longest = int(longest_s * RATE)
    if len(samples) <= longest:
        return [(0, len(samples))]
    voiced = _detect(samples, PHRASES)
    pauses = [
        (after["start"] - before["end"], (before["end"] + after["start"]) // 2)
        for before, after in zip(voiced, voiced[1:], strict=False)
    ]
    pieces: list[Window] = []
    start = 0
    while len(samples) - start > longest:
        within = [pause for pause in pauses if start + CUT_FROM * longest < pause[1] <= start + longest]
        end = max(within)[1] if within else _quietest(samples, start + int(CUT_FROM * longest), start + longest)
        pieces.append((start, end))
        start = end
    return [*pieces, (start, len(samples))]


def _quietest(samples: Samples, start: int, end: int) -> int:
    # The middle of the quietest fortieth of a second, such as the stop before a "t".
    step = RATE // 40
    count = max(1, (end - start) // step)
    power = np.square(samples[start : start + count * step]).reshape(count, -1).sum(1)
    return start + int(np.argmin(power)) * step + step // 2


def _detect(samples: Samples, options: VadOptions) -> list[dict[str, int]]:
    peak = float(np.abs(samples).max(initial=0.0))
    if peak < SILENT_PEAK:
        return []
    raised = samples * np.float32(QUIET_PEAK / peak) if peak < QUIET_PEAK else samples
    stretches: list[dict[str, int]] = get_speech_timestamps(raised, options)
    return stretches
