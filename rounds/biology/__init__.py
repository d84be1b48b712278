"""Calculations about animals: pure numbers, each with its source."""
