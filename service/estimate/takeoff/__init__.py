"""What goes on each wall: runs with their lengths, ends, backing and lawful joint positions."""
