"""Tables for a spreadsheet or a statistician: one family of tables a file."""
