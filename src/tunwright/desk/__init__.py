"""The desk: the live workbench in the browser, one process over one data folder.

Where to find what:

- `start`      puts everything up: data folder, backup, migration, demos, server, browser
- `place`      where the data are and what the process was started with; `settings` turns that into Django's settings
- `models`     builds, revisions, drafts, jobs, preferences
- `store`      operations on builds and revisions; `drafts` on drafts; `compare` what changed between two texts
- `live`       one look at a draft; `form` its form
- `gate`       who is let in: a one-time key on this machine, accounts over HTTPS in the workshop's network
- `jobs`       sheets made in the background; `makers` makes them
- `api`        the JSON API, described by `openapi`
- `pages`      the pages; their templates stand in `templates/desk`, their style and scripts in `static/desk`
"""
