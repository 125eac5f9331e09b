"""Changes as they happen."""

from __future__ import annotations

from fastapi import APIRouter

from evencast.web.asked import TheDesk, ThePerson
from evencast.web.live import EventStream

router = APIRouter()


@router.get("/live", include_in_schema=False)
async def live(desk: TheDesk, person: ThePerson) -> EventStream:
    """Server-sent events: documents that changed, and how far jobs are."""
    return EventStream(desk.live.listen(person.id))
