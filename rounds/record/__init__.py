"""What the entries say looking back: who laid on what, what became of a brood, what a batch fed."""
