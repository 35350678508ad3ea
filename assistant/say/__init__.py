"""Findings turned into words for the ear and lines for the eye."""
