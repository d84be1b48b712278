"""Whether forecasts keep their promise, in simulated broods of a known truth. ``python -m tests.calibration.broods`` is the long form."""
