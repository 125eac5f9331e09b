"""Speed, measured by hand: each script prints ratios of one run and the bar they must meet."""
