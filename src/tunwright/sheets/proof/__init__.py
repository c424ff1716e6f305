"""Sheets of what was measured: the calibration of a flow meter, and the log of what was delivered.

- `calibration`, `calibration_words`   the calibration sheet and its sentences
- `delivery`, `delivery_words`, `loss_words`, `delivery_figures`   the delivery-log sheet, its sentences and figures
- `way_plot`                           the way that was driven, to scale, without a map
- `data`                               both as plain data, `files` both as PDF and CSV
"""
