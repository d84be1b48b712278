"""Calculations about air, water, sugar and sun: pure numbers, each with its source."""
