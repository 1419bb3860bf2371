"""Faults put in on purpose, one at a time, to see whether a test notices.

``targets`` says what is mutated, ``operators`` and ``formulas`` how Python is, ``figures`` how the
rule sets are; ``sample`` draws; ``reach`` knows which test comes by which line; ``server`` runs the
tests of one mutant in a copy of the checkout, ``crew`` drives the servers; ``accepted`` reads the
survivors that are explained.
"""
