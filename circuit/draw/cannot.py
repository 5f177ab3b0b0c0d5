"""What a drawing cannot do without."""


class CannotDraw(Exception):
    """Something a drawing needs is not there; the text says how to get it."""
