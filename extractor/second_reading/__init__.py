"""Listening again where a mistake would hurt: other readings of the words that primary facts hang on.

`second_reading` asks the sound itself whether eighteen could have been eighty (`sound`), weighs the answers with the
checks of the case (`solve`) and flags what remains in doubt, with a suggestion (`suggest`). It changes no fact.
"""

from __future__ import annotations

from extractor.second_reading.read import second_reading

__all__ = ["second_reading"]
