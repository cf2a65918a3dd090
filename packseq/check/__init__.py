"""The independent replay: rules and cost of any plan. Never imports the solver."""
