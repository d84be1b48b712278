"""What is coming: hatches, moults, pupations, emergences, low moats, sprigs that may go; made from
the bench when asked."""
