"""A case as the page shows it: plain words, groups as a surgeon thinks, and where each thing was said."""
