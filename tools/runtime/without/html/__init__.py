"""In place of html, of which a calculator escapes only: the rest is two thousand names of letters."""


def escape(s, quote=True):
    """Return text as HTML, and as an attribute's value unless told otherwise."""
    text = s.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return text.replace('"', "&quot;").replace("'", "&#x27;") if quote else text
