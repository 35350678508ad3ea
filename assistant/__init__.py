"""Deckside: a spoken second opinion for flatbed drivers who haul metal coils."""
