"""Jobs: what the service does, as plain functions; clock, ids and data are handed in."""
