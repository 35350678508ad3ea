"""From words to meaning: tokens, pieces, noun phrases, clauses with an act each; every token ends somewhere."""
