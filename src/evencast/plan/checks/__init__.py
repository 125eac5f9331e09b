"""Rules between the parts of a document, and between plan and kit: one function each.

A rule returns problems whose `where` is the place inside its document; `run` puts the
document's name before it. Rules also run on what could be read of a document with errors
(`evencast.plan.sketch`): there a number may be nan and a text empty, and neither is complained
of again.
"""

from evencast.plan.checks.run import kit_problems, plan_problems, problems_together

__all__ = ["kit_problems", "plan_problems", "problems_together"]
