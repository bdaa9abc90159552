"""Adding to the log without losing a byte: text put in by the parser's marks, files swapped whole."""
