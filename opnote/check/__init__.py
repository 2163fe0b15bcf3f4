"""Stage 6: Record -> findings. One small function a rule, found by the registry; what it compares with stands in ``lexicons/``."""

from opnote.check.knowledge import Knowledge, built_in, knowledge_of
from opnote.check.pages import explain, page
from opnote.check.registry import checks
from opnote.check.run import DEFAULT_PROFILES, rules_off, run

__all__ = ["DEFAULT_PROFILES", "Knowledge", "built_in", "checks", "explain", "knowledge_of", "page", "rules_off", "run"]
