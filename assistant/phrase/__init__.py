"""Grammar data compiled into the recognizer's phrases and the parser."""
