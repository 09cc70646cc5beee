"""Settings of the test tools."""

import os

from hypothesis import settings

# A busy machine is slow; benchmarks measure, tests do not time.
settings.register_profile("whole", deadline=None)
settings.register_profile("quick", deadline=None, max_examples=20)
settings.load_profile(os.environ.get("SCREEDBOOK_TESTS", "whole"))
