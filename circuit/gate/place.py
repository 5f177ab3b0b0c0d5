"""Where a policy stands, found without reading it: an unchanged design needs no more."""

import os

NAME = "airwright.toml"


class Misruled(ValueError):
    """A policy or a baseline that is not understood; the text says which, where and what to write."""


def find(folder: str) -> str:
    """The policy that holds for a folder: the one above it or in it, up to the top of its repository; "" for none.

    Raises Misruled where there are two: a nearer one would lower the other.
    """
    found: list[str] = []
    here = os.path.realpath(folder)
    while True:
        if os.path.isfile(os.path.join(here, NAME)):
            found.append(os.path.join(here, NAME))
        above = os.path.dirname(here)
        if above == here or os.path.exists(os.path.join(here, ".git")):
            break
        here = above
    if len(found) > 1:
        raise Misruled(f"{found[0]}: there is a policy above already, {found[-1]}: keep one, with a [[folder]] for what is "
                       "special in a folder")
    return found[0] if found else ""


def baseline_of(policy: str) -> str:
    """The baseline that a policy names, with its folder; "" for none, or where the policy is no TOML, which is told later."""
    import tomllib

    try:
        with open(policy, "rb") as file:
            content = file.read()
        named = tomllib.loads(content.decode("utf-8")).get("baseline", "") if b"baseline" in content else ""
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError):
        return ""
    return os.path.join(os.path.dirname(os.path.abspath(policy)), named) if isinstance(named, str) and named else ""
