"""The system libraries that making a PDF needs, and the Debian packages that bring them."""

import ctypes
import ctypes.util

PACKAGES = {
    "pango-1.0": ("libpango-1.0.so.0", "libpango-1.0-0"),
    "pangoft2-1.0": ("libpangoft2-1.0.so.0", "libpangoft2-1.0-0"),
    "harfbuzz-subset": ("libharfbuzz-subset.so.0", "libharfbuzz-subset0"),
}


def can_load(library: str) -> bool:
    """Whether a library of `PACKAGES` is on this machine."""
    file_name, _ = PACKAGES[library]
    for candidate in (ctypes.util.find_library(library), file_name):
        try:
            ctypes.CDLL(candidate or file_name)
        except OSError:
            continue
        return True
    return False


def list_missing_packages() -> list[str]:
    """Debian packages whose library cannot be loaded; empty when all is well."""
    return [package for library, (_, package) in PACKAGES.items() if not can_load(library)]


def name_harfbuzz_version() -> str:
    """The version of the shaping library, or "unknown" where it cannot be asked."""
    try:
        library = ctypes.CDLL("libharfbuzz.so.0")
    except OSError:
        return "unknown"
    library.hb_version_string.restype = ctypes.c_char_p
    return str(library.hb_version_string().decode())
