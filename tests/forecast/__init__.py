"""Tests of forecasts: regressions against statsmodels, bands against simulated conduction."""
