"""What leaves the tool: values in, text or bytes out."""
