"""The load: its nouns, the changes to it, and the fold over them."""
