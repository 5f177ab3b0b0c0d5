"""What a device kind is, and pieces that kinds share."""
