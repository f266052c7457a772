"""For all tests: no property test is judged by the clock, which says more of the machine than of the program."""

from hypothesis import settings

settings.register_profile("steady", deadline=None)
settings.load_profile("steady")
