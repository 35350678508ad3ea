"""The rules engine: one module per regulation, every number in tables/."""
