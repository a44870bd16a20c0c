"""Teaching the packaged recognizer the words of the trade: text, sound, training and judging. See README.md."""
