"""Grammar data, the numbers in talk, and what was told laid beside the load."""
