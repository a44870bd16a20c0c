"""What a person can do with a case. Plain functions from one sheet to the next; nothing here writes."""
