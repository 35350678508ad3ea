"""Quiz questions made from the tables and the engine."""
