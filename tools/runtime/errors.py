"""What goes wrong while packing."""


class PackError(Exception):
    """The runtime cannot be packed; the message says what to do about it."""
