"""From kept sound to words: in the background, in pieces, taken up again after any stop."""
