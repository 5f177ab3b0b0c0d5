"""How commands speak and where what they found goes. Knows no particular command."""
