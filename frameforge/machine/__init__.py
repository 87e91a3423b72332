"""What the machine needs beyond the bare outlines: kerf, starts, lead-ins, overcut, bridges, order, time."""
