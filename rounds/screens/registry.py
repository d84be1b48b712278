"""Every page that is opened by name over the bench; its module is loaded when it is opened
first."""

from __future__ import annotations

from importlib import import_module
from typing import cast

from rounds.screens.page import Page

PAGES = {
    "round": "round_screen.RoundScreen",
    "card": "card_screen.CardScreen",
    "map": "map_screen.MapScreen",
    "overdue": "overdue_screen.OverdueScreen",
    "daybook": "daybook_screen.DaybookScreen",
    "plan": "plan_screen.PlanScreen",
    "ahead": "ahead_screen.AheadScreen",
    "batches": "batches_screen.BatchesScreen",
    "broods": "broods_screen.BroodsScreen",
    "learned": "learned_screen.LearnedScreen",
    "laying": "reference_screens.LayingScreen",
    "supplies": "reference_screens.SuppliesScreen",
    "away": "reference_screens.AwayScreen",
    "calculator": "reference_screens.CalculatorScreen",
}


def page_class(name: str) -> type[Page]:
    """The class of the page of that name.

    Raises:
        KeyError: no page is called that.
    """
    module, class_name = PAGES[name].split(".")
    return cast("type[Page]", getattr(import_module(f"rounds.screens.{module}"), class_name))
