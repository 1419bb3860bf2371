"""Line drawings of the house, made from shared shapes: one style, one arrow, one hazard mark.

``python -m tools.drawings`` (in the environment of the checks, which has shapely) writes every
scene of `scenes` to docs/assets/drawings/. The drawings are committed, so a build needs no shapely.
"""
