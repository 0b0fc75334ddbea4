"""The parts of the invented season, in the order in which the film travels."""
