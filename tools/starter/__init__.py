"""What a new operator's folder begins with: text with choices by units and by country.

``[38 in|960 mm]`` is written as its first half in a folder in US units, as its second in a metric one;
``{breaker}`` is the country's, from ``countries.toml``.
"""
