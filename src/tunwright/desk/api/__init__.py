"""The JSON API under /api/, used by the pages themselves and described at /api/openapi.json.

`route` says how a request is read and answered, `shapes` and `looking` what is asked for and given; the other modules
put their routes up when they are imported, and `all_routes` imports them.
"""
