"""Texts that nobody would send, thrown at the JSON border by the coverage they reach.

``judge`` says what every answer must be, ``requests`` makes texts out of texts, ``loop`` is the
process that the fuzzer drives; what it suspects is judged again outside it, where nothing slows
the calculators down.
"""
