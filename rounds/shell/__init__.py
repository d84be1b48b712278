"""What `rounds ...` does at a prompt."""
