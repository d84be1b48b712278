"""The weather of one season in a room: temperature by the hour, and sun on the sill."""

from __future__ import annotations

from math import cos, pi
from random import Random

from tests.season.numbers import World


class Weather:
    """Hour by hour from the first midnight on; the same for every keeper of a seed."""

    def __init__(self, world: World, days: int, random: Random) -> None:
        self._world = world
        self.days = days
        drift, self._day_c, self._sunny = 0.0, [], []
        for day in range(days + 2):
            drift = 0.6 * drift + random.gauss(0.0, world.day_to_day_c * 0.8)
            self._day_c.append(world.mean_c + world.warming_c * (day / days - 0.5) + drift)
            self._sunny.append(random.random() < world.sunny_share)

    def room_c(self, hour: int) -> float:
        """The room's temperature: lowest at five in the morning, highest at five in the afternoon."""
        day, of_day = divmod(hour, 24)
        swing = self._world.day_swing_c * (1.3 if self._sunny[day] else 0.7)
        return self._day_c[day] - swing * cos(2 * pi * (of_day - 5) / 24)

    def sun_c(self, hour: int) -> float:
        """What the sun adds in a cup on the sill, which looks south-west: from noon to seven."""
        day, of_day = divmod(hour, 24)
        if not self._sunny[day] or not 12 <= of_day <= 18:
            return 0.0
        return self._world.sun_extra_c * (1 - abs(of_day - 15) / 4.5)

    def sunny(self, hour: int) -> bool:
        """Whether the day is sunny."""
        return self._sunny[hour // 24]
