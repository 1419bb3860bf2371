"""Drills from the operator's own data: a real sheet with one value changed, to be judged.

``find.py`` changes one value of a real request until the answer turns (or does not),
``pages.py`` writes them as questions and, apart from them, as answers.
"""
