"""The two documents a person owns, plan and kit: text in, values and problems out.

`document` reads and rewrites them, `plan` and `kit` hold their models, `checks` the rules
between their parts, `schema` their JSON Schemas. Nothing here opens a file.
"""
