"""One function per thing a person does; each returns a result of `evencast.results`."""
