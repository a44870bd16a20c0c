"""Listening again where a mistake would hurt: other readings of the words that primary facts hang on.

`second_reading` asks the sound whether eighteen could have been eighty: the recognizer's decoder (`sound`) and a
second witness that only spells (`witness`). It weighs the answers with the checks of the case (`solve`) and flags what
remains in doubt, with a suggestion (`suggest`). It changes no fact that was read; misheard words that hid a fact are
read as what was said where sound and grammar agree (`mend`), and listed.
"""

from __future__ import annotations

from extractor.second_reading.read import second_reading

__all__ = ["second_reading"]
