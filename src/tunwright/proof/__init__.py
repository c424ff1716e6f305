"""Measured against calculated: what was logged and noted down, read and compared.

- `rows`, `cells`        a CSV file with a header, read strictly, or all that is wrong with it
- `calibration`          runs of a flow meter: its K-factor and how far it is off
- `log`                  the log of a pump control, row by row
- `delivered`, `along`   what the meter counted, over time and over the way
- `losses`               the tank against the meter: fillings, and what is missing
- `calibration_findings`, `delivery_log`   what is judged of both
"""
