"""Measured against calculated: what was logged and noted down, read and compared.

- `rows`          a CSV file with a header, read strictly, or all that is wrong with it
- `calibration`   runs of a flow meter: its K-factor and how far it is off
- `delivery_log`  the log of a pump control: where the water went, and what is missing
"""
