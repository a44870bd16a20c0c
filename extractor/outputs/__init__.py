"""What is made of a record: the terminal view, the operative note, tables; and how a sentence is read."""
