"""What a plan was solved from, as a digest: whether what is kept in it still answers it."""

from __future__ import annotations

import hashlib
import json

from evencast.actions.planned import LoadedPlan

DIGITS = 16


def inputs_digest(loaded: LoadedPlan) -> str:
    """A digest of everything that a solution follows from: the plan as it is in the set-up, its
    kit, and the spectra of both; not of what was planned, rigged and read."""
    digest = hashlib.sha256()
    plan = loaded.plan.model_dump(mode="json", exclude={"setup"}, exclude_defaults=True)
    document = loaded.kit.document
    kit = None if document is None else document.model_dump(mode="json", exclude_defaults=True)
    digest.update(json.dumps([plan, kit], sort_keys=True, ensure_ascii=False).encode())
    for light in loaded.lights.values():
        digest.update(light.power.tobytes())
    for each in loaded.kit.filters:
        digest.update(each.transmittance.tobytes())
    return digest.hexdigest()[:DIGITS]
