"""What leaves the program: charts, documents, tables and the pocket page, as text or bytes."""
