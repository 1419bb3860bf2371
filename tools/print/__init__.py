"""New-hire packs: chosen pages of the finished handbook as one booklet to print and sign.

``packs.py`` reads what an operator wants in a pack, ``reader.py`` takes a finished page apart,
``make.py`` and ``house.typ`` lay the booklet out as a tagged PDF, ``paper.py`` puts the same pages into one page
of the site. All of it works on the folder that the site generator left.
"""
