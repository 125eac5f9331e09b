"""One module per version of the tables; never changed once it was in a release."""
