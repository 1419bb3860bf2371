"""Paper: chosen pages of the finished handbook as one booklet to print and sign, and drill sheets.

``reader.py`` takes a finished page apart, ``booklets.py`` and ``house.typ`` lay it out as a tagged PDF. All of it works on the folder that the site generator left.
"""
