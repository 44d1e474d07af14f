"""The site's settings for the type checker, in a folder that may be thrown away."""

import os
import tempfile

os.environ["BEDWRIGHT_HOME"] = tempfile.mkdtemp(prefix="bedwright-types-")
from bedwright.web.settings import *  # noqa: F403
