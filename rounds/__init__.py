"""Daily husbandry rounds for wild-caught butterflies and moths and their broods."""
