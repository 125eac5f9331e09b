"""Changes as they happen."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import StreamingResponse

from evencast.web.asked import TheDesk

router = APIRouter()


@router.get("/live", include_in_schema=False)
async def live(desk: TheDesk) -> StreamingResponse:
    """Server-sent events: documents that changed, and how far jobs are."""
    return StreamingResponse(
        desk.live.listen(), media_type="text/event-stream", headers={"x-accel-buffering": "no"}
    )
