"""The rules a builder may judge by, one for each kind of limit, chosen in ``Job.rules``."""

from collections.abc import Mapping

LIMIT = "service"  # a condemning limit: keep or replace
SETTING = "band"  # a band that is set or left
SURE = "sure"  # 95 % sure
PLAIN = "plain"  # the plain reading decides

RULES: Mapping[str, str] = {SURE: "only what is 95 % sure is decided", PLAIN: "the plain reading decides"}
USUAL: Mapping[str, str] = {LIMIT: SURE, SETTING: PLAIN}


def rule_for(chosen: Mapping[str, str], kind: str) -> str:
    """The builder's rule for a kind of limit, else the usual one."""
    wanted = chosen.get(kind, "")
    return wanted if wanted in RULES else USUAL[kind]
